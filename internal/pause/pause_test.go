package pause_test

import (
	"context"
	"testing"

	"github.com/stretchr/testify/assert"

	"findrive/internal/pause"
)

func TestErrIsThatOfTheContext(t *testing.T) {
	ctx, stop := context.WithCancelCause(context.Background())
	assert.NoError(t, pause.Err(ctx))
	stop(assert.AnError)
	assert.Equal(t, context.Canceled, pause.Err(ctx))
	late, end := context.WithTimeout(context.Background(), -1)
	defer end()
	assert.Equal(t, context.DeadlineExceeded, pause.Err(late))
}
