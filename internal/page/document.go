package page

import (
	"bytes"
	"context"
	"crypto/sha256"
	_ "embed"
	"encoding/base64"
	"errors"
	"slices"
	"strings"

	g "maragu.dev/gomponents"
	h "maragu.dev/gomponents/html"

	"findrive/internal/notices"
	"findrive/internal/pattern"
)

//go:embed page.css
var style string

//go:embed page.js
var script string

//go:embed glue.js
var glue string

//go:embed base85.js
var unwrap string

//go:embed idiomorph.js
var morph string

// Made is what is built outside of this package.
type Made struct {
	Engine  []byte // WebAssembly, gzipped
	Starter string // the script of the same Go that starts it
}

// Document is the whole page as one HTML file: the first screen as it is, so that there
// is something to read at once, and the engine. The error is that the example has no
// answer, which would be the program's fault.
func Document(ctx context.Context, m Made) ([]byte, error) {
	s := New(Limits{})
	s.find(ctx, func(*Reply) {})
	if !s.fresh() || s.answer.told == nil {
		return nil, errors.New("the example has no answer")
	}
	licence, starter, _ := strings.Cut(m.Starter, "\n\n")
	worker, script := licence+"\n"+bare(starter)+bare(unwrap)+bare(glue), bare(script)
	if overLines(m.Starter) {
		return nil, errors.New("the script that comes with Go has a text over several lines, which must stay as it is")
	}
	for _, part := range []string{morph, script, worker} {
		if strings.Contains(part, "</script") || strings.Contains(part, "<!--") {
			return nil, errors.New("a script would end before its end")
		}
	}
	all := morph + "\n" + script
	sum := sha256.Sum256([]byte(all))
	policy := "default-src 'none'; script-src 'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "' 'wasm-unsafe-eval'; worker-src blob:; style-src 'unsafe-inline'; img-src data: blob:; form-action 'none'; base-uri 'none'"
	var b bytes.Buffer
	err := h.Doctype(h.HTML(h.Lang("en"),
		h.Head(h.Meta(h.Charset("utf-8")),
			h.Meta(g.Attr("http-equiv", "Content-Security-Policy"), h.Content(policy)),
			h.Meta(h.Name("viewport"), h.Content("width=device-width, initial-scale=1")),
			h.Meta(h.Name("color-scheme"), h.Content("light dark")),
			h.TitleEl(g.Text(s.title())),
			h.StyleEl(g.Raw(tight(style)))),
		h.Body(
			s.page(),
			h.P(h.ID("said"), h.Class("unseen"), h.Role("status")),
			h.NoScript(h.P(h.Class("note"), g.Text("This page works things out with a script, and scripts are turned off here. What stands above is an example."))),
			h.Script(h.Type("text/plain"), h.ID("worker"), g.Raw(worker)),
			h.Script(g.Raw(all)),
			inParts(m.Engine)))).Render(&b)
	return b.Bytes(), err
}

// overLines reports whether a script has a text that may run over several lines.
func overLines(script string) bool {
	for line := range strings.Lines(script) {
		if strings.Count(line, "`")%2 != 0 {
			return true
		}
	}
	return false
}

var (
	remark = pattern.Must(`(?s)/\*.*?\*/`)
	spaces = pattern.Must(`\s+`)
	needed = strings.NewReplacer("; }", "}", " { ", "{", "{ ", "{", " }", "}", "} ", "}", "; ", ";", ": ", ":", ", ", ",")
)

// tight is a style sheet without its remarks and the spaces that it does not need. None of its texts
// may have any of these.
func tight(style string) string {
	return needed.Replace(spaces.ReplaceAllString(remark.ReplaceAllString(style, ""), " "))
}

// bare is a script without its comments and indents.
func bare(script string) string {
	var out strings.Builder
	for line := range strings.Lines(script) {
		if line = strings.TrimLeft(line, " \t"); !strings.HasPrefix(line, "//") {
			out.WriteString(line)
		}
	}
	return out.String()
}

// partLength is of how many bytes the parts of the engine are: whole fours each.
const partLength = 384 << 10

// inParts is the engine in parts, so that it is made ready while the rest is still being read.
func inParts(engine []byte) g.Node {
	var parts g.Group
	for part := range slices.Chunk(engine, partLength) {
		parts = append(parts, h.Script(h.Type("text/plain"), h.Class("engine"), g.Raw(string(base85(part)))))
	}
	return parts
}

func licences() g.Node {
	return h.Section(h.ID("licence-texts"), h.Aria("label", "Licences"), h.Pre(h.TabIndex("0"), h.ID("licence-words"), g.Text(notices.Text()+"\n\n"+morphLicence)))
}

//go:embed idiomorph-LICENSE.txt
var morphLicence string
