//go:build !js

package pause

import "context"

// Err is ctx.Err(): nil, or why the work should stop. It never waits.
func Err(ctx context.Context) error { return ctx.Err() }
