package page

import (
	g "maragu.dev/gomponents"
	h "maragu.dev/gomponents/html"
)

func (s *Session) tubsDoor() g.Node { return h.P(g.Text("...")) }
