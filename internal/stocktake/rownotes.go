package stocktake

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"findrive/internal/units"
)

// Notes and words about the condition are not read, but for what makes a count wrong: "3
// dead", "2 are lent out", "perished".
var (
	notGood    = `(?:broken|damaged|faulty|bad|perished|dead|not working|cracked|split|snapped|missing|lost|lent|on loan|borrowed|rusty|bent|useless)`
	someBad    = regexp.MustCompile(`(?i)(?:^|[^\d.,])(\d{1,4})\s*(?:of (?:them|these)\s*)?(?:are |is |were )?` + notGood + `\b`)
	allBad     = regexp.MustCompile(`(?i)^(?:all |very |completely |mostly )?` + notGood + `[.!]*$`)
	anyBad     = regexp.MustCompile(`(?i)\b` + notGood + `\b`)
	noneBad    = regexp.MustCompile(`(?i)\b(?:no|none|not|0|nothing|without|never|un)\b`)
	conditions = map[string]bool{"condition": true, "status": true, "state": true}
)

// lessNoted takes from a count what notes and words about the condition say is not good.
func (t *taking) lessNoted(n int, cells []string, r *Row, e *entry) (int, error) {
	for i, c := range t.heading.list {
		if c.field != unusedField || i >= len(cells) || !isRemark(c.heading) && !conditions[plainWords(c.heading)] {
			continue
		}
		text := cells[i]
		m := someBad.FindStringSubmatch(text)
		switch {
		case m != nil && m[1] != "0":
			bad, err := strconv.Atoi(m[1])
			if err != nil || bad >= n {
				return 0, refuse(i, "%s of %d: count the good ones", units.Quoted(cut(text, 40)), n)
			}
			n -= bad
			e.fact(r, i, "count", fmt.Sprintf("less %d, for it says %s", bad, units.Quoted(cut(text, 40))))
		case allBad.MatchString(strings.TrimSpace(text)):
			return 0, refuse(i, "it says %s: count the good ones", units.Quoted(cut(text, 40)))
		case anyBad.MatchString(text) && !noneBad.MatchString(text):
			e.fact(r, i, "count", fmt.Sprintf("taken as %d, but it says %s", n, units.Quoted(cut(text, 40))))
		}
	}
	return n, nil
}
