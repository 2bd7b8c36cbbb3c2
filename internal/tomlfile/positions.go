package tomlfile

import (
	"strings"

	"github.com/pelletier/go-toml/v2/unstable"
)

type position struct{ line, column int }

// positions finds where each dotted key stands. It is given only documents whose
// syntax has been found right.
func positions(data []byte) map[string]position {
	at := map[string]position{}
	var p unstable.Parser
	p.Reset(data)
	table := ""
	for p.NextExpression() {
		e := p.Expression()
		var names []string
		var first position
		for it := e.Key(); it.Next(); {
			n := it.Node()
			if len(names) == 0 {
				start := p.Shape(n.Raw).Start
				first = position{start.Line, start.Column}
			}
			names = append(names, string(n.Data))
		}
		key := strings.Join(names, ".")
		switch e.Kind {
		case unstable.Table, unstable.ArrayTable:
			table = key
		case unstable.KeyValue:
			if table != "" {
				key = table + "." + key
			}
		default:
			continue
		}
		if _, there := at[key]; !there {
			at[key] = first
		}
	}
	return at
}
