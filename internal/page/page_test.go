package page

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/net/html"
)

// user is a session that is used as the script uses it: what is to be sent next is sent.
type user struct {
	t *testing.T
	*Session
	last *Reply
}

func newUser(t *testing.T) *user {
	u := &user{t: t, Session: New(Limits{})}
	u.do(Event{Act: "restore"})
	return u
}

func (u *user) do(e Event) *Reply {
	u.t.Helper()
	u.last = u.Do(context.Background(), e, nil)
	reply := u.last
	for range 3 {
		if u.last.Next == "" {
			break
		}
		u.last = u.Do(context.Background(), Event{Act: u.last.Next}, nil)
	}
	return reply
}

func (u *user) set(file, v string, path ...string) *Reply {
	u.t.Helper()
	return u.do(Event{Act: "set", On: file + pathOf(path...), Value: v})
}

// nodes are all elements of the page as it is.
func (u *user) nodes() []*html.Node {
	u.t.Helper()
	root, err := html.Parse(strings.NewReader(u.html()))
	require.NoError(u.t, err)
	var all []*html.Node
	for n := range root.Descendants() {
		if n.Type == html.ElementNode {
			all = append(all, n)
		}
	}
	return all
}

func attr(n *html.Node, key string) string {
	for _, a := range n.Attr {
		if a.Key == key {
			return a.Val
		}
	}
	return ""
}

func (u *user) byID(id string) *html.Node {
	u.t.Helper()
	for _, n := range u.nodes() {
		if attr(n, "id") == id {
			return n
		}
	}
	return nil
}

func told(n *html.Node) string {
	if n == nil {
		return ""
	}
	var b strings.Builder
	for d := range n.Descendants() {
		if d.Type == html.TextNode {
			b.WriteString(d.Data)
		}
	}
	return b.String()
}

var _ = []any{bytes.NewReader, errors.New, fmt.Sprint, os.Getenv, slices.Sort[[]int], assert.True}

func TestTheFirstScreenIsAnExampleAnswered(t *testing.T) {
	u := newUser(t)
	assert.True(t, u.fresh())
	assert.Contains(t, told(u.byID("outcome")), "Best of all for Carousel for eight groups")
	for _, id := range []string{"door-how", "door-list", "door-tubs", "cautions"} {
		assert.NotNil(t, u.byID(id), id)
	}
	data, _ := measuringSheet(u.size())
	_ = os.WriteFile("/tmp/shots/measuring.pdf", data, 0o600)
}
