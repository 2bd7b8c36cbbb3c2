package stocktake

import (
	"fmt"
	"strconv"
	"strings"

	"findrive/internal/pattern"
	"findrive/internal/units"
)

// counting is a count on its way: the good ones, and where they stand.
type counting struct {
	text string
	at   int
}

// count is how many good ones there are.
func (t *taking) count(cells []string, r *Row, e *entry) (int, error) {
	text, at, err := t.countCell(cells, r, e)
	if err != nil {
		return 0, err
	}
	bad := t.damaged(cells)
	good, goodAt := t.cell(cells, goodField)
	switch plain := strings.ToLower(strings.Trim(good, " .!")); {
	case good == "", works[plain] && at >= 0:
		good = ""
	case noneWork[plain] && at >= 0 && at != goodAt:
		return 0, refuse(goodAt, "%s says %s: count the good ones", t.heading.list[goodAt].heading, units.Quoted(good))
	case at >= 0 && at != goodAt && strings.Trim(plain, "abcdefghijklmnopqrstuvwxyz ") == "" && numberWords[plain] == 0:
		e.fact(r, goodAt, "count", fmt.Sprintf("taken as it stands, but %s says %s", t.heading.list[goodAt].heading, units.Quoted(cut(good, 40))))
	default:
		text, at, bad = good, goodAt, nil
	}
	switch {
	case brokenFormula(text):
		return 0, refuse(at, "%s is a formula that went wrong: count them", units.Quoted(text))
	case noneWords[strings.ToLower(text)]:
		return 0, refuse(at, "there are none")
	case unknown(text) && len(bad) > 0:
		return 0, refuse(at, "no count, only that of the damaged ones")
	case unknown(text):
		r.assume(at, false, "no count: taken as 1")
		e.facts = append(e.facts, "count taken as 1")
		return 1, nil
	}
	c, err := readCount(text, t.opt.Lots)
	if err != nil {
		return 0, refuse(at, "%s", err.Error())
	}
	if c.none {
		return 0, refuse(at, "there are none")
	}
	if c.assumed != "" {
		r.assume(at, false, c.assumed)
		e.facts = append(e.facts, fmt.Sprintf("count taken as %d (the list says %s)", c.n, units.Quoted(text)))
	}
	if c.doubted {
		t.asks = append(t.asks, fmt.Sprintf("Row %d, %s: how many are good? %s is taken as %d, a guess: look at them, and write the good ones in %s.",
			r.Number, cut(r.Words, 40), units.Quoted(cut(text, 40)), c.n, t.placeOf(at)))
	}
	if at >= 0 && t.heading.list[at].guessed {
		e.fact(r, at, "count", fmt.Sprintf("the heading %s taken for %s", units.Quoted(t.heading.list[at].heading), t.heading.list[at].field.words()))
	}
	if len(bad) == 1 && c.damaged > 0 {
		// The count says so and a column says so: if they say the same they are the same.
		if d, err := readCount(bad[0].text, 0); err == nil && d.n == c.damaged {
			e.fact(r, bad[0].at, "count", fmt.Sprintf("less %d damaged, told twice and taken off once", d.n))
			bad = nil
		}
	}
	n, err := t.lessDamaged(c.n-c.damaged, bad, r, e)
	if err != nil {
		return 0, err
	}
	if n, err = t.lessNoted(n, cells, r, e); err != nil {
		return 0, err
	}
	if n == 0 {
		return 0, refuse(at, "all of them are damaged")
	}
	if n, err = t.unit(cells, r, e, at, text, n); err != nil {
		return 0, err
	}
	t.packs(cells, r, e, at, text, n)
	for i, c := range t.heading.list {
		if takenAway[plainWords(c.heading)] && c.field == "" && i < len(cells) && strings.ContainsAny(cells[i], "123456789") {
			e.fact(r, i, "count", fmt.Sprintf("taken as %d, but %s says %s", n, c.heading, units.Quoted(cut(cells[i], 40))))
		}
	}
	return n, nil
}

// Words in a column of good ones that is none of counts.
var (
	works    = map[string]bool{"yes": true, "y": true, "ok": true, "all": true, "good": true, "fine": true, "✓": true, "✔": true, "tested": true, "true": true}
	noneWork = map[string]bool{"no": true, "n": true, "none": true, "x": true, "✗": true, "✘": true, "not": true, "false": true}
)

// takenAway are headings of what is no longer there, if the count is from before.
var takenAway = map[string]bool{"used": true, "used up": true, "taken": true, "given out": true, "issued": true, "borrowed": true, "out": true, "sold": true, "reserved": true}

// damaged are the cells that say how many are not to be counted.
func (t *taking) damaged(cells []string) []counting {
	var out []counting
	for i, c := range t.heading.list {
		if c.field == damagedField && i < len(cells) && !unknown(cells[i]) {
			out = append(out, counting{cells[i], i})
		}
	}
	return out
}

// lessDamaged takes those that are damaged from those that there are. Several columns of
// them may tell of the same ones, so all are taken off.
func (t *taking) lessDamaged(n int, bad []counting, r *Row, e *entry) (int, error) {
	for _, b := range bad {
		d, err := readCount(b.text, 0)
		switch {
		case err != nil:
			return 0, refuse(b.at, "%s", err.Error())
		case d.n > n:
			return 0, refuse(b.at, "%d damaged are more than there are, %d", d.n, n)
		case d.assumed != "":
			r.assume(b.at, false, d.assumed)
			e.facts = append(e.facts, fmt.Sprintf("count less %d damaged (the list says %s)", d.n, units.Quoted(b.text)))
		case len(bad) > 1:
			e.fact(r, b.at, "count", fmt.Sprintf("less %d, for %s", d.n, t.heading.list[b.at].heading))
		}
		n -= d.n
	}
	return n, nil
}

// ones are words for a unit that is one piece.
var ones = map[string]bool{"each": true, "ea": true, "pc": true, "pcs": true, "piece": true, "pieces": true, "no": true, "nr": true, "item": true, "items": true, "single": true, "singles": true, "one": true, "unit": true, "units": true, "1": true, "st": true, "off": true}

// unit looks at what is counted: 2 with boxes of 10 are 20, and bags or grams are no count
// of pieces.
func (t *taking) unit(cells []string, r *Row, e *entry, at int, text string, n int) (int, error) {
	said, where := t.cell(cells, unitField)
	plain := plainWords(said)
	if unit, is := unitWord(said); is && unit != "" {
		return n, nil // of the sizes
	}
	if unknown(said) || ones[plain] || !isBare(text) {
		return n, nil
	}
	if k := kindIn(said); k.kind == e.kind {
		return n, nil
	}
	each, known := inPack("", said)
	if v, err := strconv.Atoi(plain); err == nil && v > 1 {
		each, known = v, true
	}
	if !known {
		return 0, refuse(where, "%s %s is no count of pieces: count them", text, said)
	}
	all := min(n*each, mostCount)
	if all > n {
		e.fact(r, where, "count", fmt.Sprintf("%d with %s taken as %d", n, units.Quoted(said), all))
	}
	return all, nil
}

// countCell is the cell with the count, or the smaller of several that may be it.
func (t *taking) countCell(cells []string, r *Row, e *entry) (string, int, error) {
	pieces, _ := t.cell(cells, countField)
	if packs, _ := t.cell(cells, packsField); t.heading.column(packsField) >= 0 && (t.heading.column(countField) < 0 || unknown(pieces) && !unknown(packs)) {
		return t.countOfPacks(cells, r, e)
	}
	if len(t.heading.counts) == 0 {
		text, at := t.cell(cells, countField)
		return text, at, nil
	}
	var said []counting
	var words []string
	for _, i := range t.heading.counts {
		if i < len(cells) && !unknown(cells[i]) {
			said = append(said, counting{cells[i], i})
			words = append(words, fmt.Sprintf("%s has %s", t.heading.list[i].heading, cells[i]))
		}
	}
	if len(said) == 0 {
		return "", t.heading.counts[0], nil
	}
	least, fewest, alike := said[0], -1, len(said) == len(t.heading.counts)
	for _, s := range said {
		c, err := readCount(s.text, t.opt.Lots)
		if err != nil {
			return "", s.at, refuse(s.at, "%s", err.Error())
		}
		alike = alike && (fewest < 0 || c.n-c.damaged == fewest)
		if n := c.n - c.damaged; fewest < 0 || n < fewest {
			least, fewest = s, n
		}
	}
	if !alike {
		e.fact(r, least.at, "count", fmt.Sprintf("taken as %s, for %s", units.Quoted(least.text), strings.Join(words, ", ")))
	}
	return least.text, least.at, nil
}

// countOfPacks is how many pieces there are in so many packs.
func (t *taking) countOfPacks(cells []string, r *Row, e *entry) (string, int, error) {
	packs, at := t.cell(cells, packsField)
	if unknown(packs) {
		return "", at, refuse(at, "no count")
	}
	in, _ := t.cell(cells, packField)
	each, known := inPack(in, t.heading.list[at].heading)
	if !known {
		each, known = inPack(in, e.label)
	}
	if !known {
		return "", at, refuse(at, "%s packs, and it does not say how many are in one", packs)
	}
	c, err := readCount(packs, 0)
	if err != nil || c.none {
		return packs, at, nil // said where it is read
	}
	n := min(c.n*each, mostCount+1)
	e.fact(r, at, "count", fmt.Sprintf("%s packs of %d taken as %d", packs, each, n))
	return strconv.Itoa(n), at, nil
}

var packWords = pattern.Must(`(?i)\b(?:bag|pack|packet|pkt|box|tub|bundle|set|tin|jar)(?:es|s)?\s+of\s+(\d{1,5})\b|\b(\d{1,5})\s*(?:per|in a|to a|/)\s*(?:bag|pack|packet|pkt|box|tub|bundle|set)\b|\b(?:pack|pk|bag|box)\s*(?:x|×)\s*(\d{1,5})\b|\b(\d{1,5})\s*(?:pieces|pcs)\b`)

var pairs = pattern.Must(`(?i)\bpairs?\b`)

// inPack is how many pieces are in a pack, as a cell of its own or a name says.
func inPack(cell, name string) (int, bool) {
	if c, err := readCount(cell, 0); err == nil && c.n > 0 {
		return c.n, true
	}
	if pairs.MatchString(name) {
		return 2, true
	}
	m := packWords.FindStringSubmatch(name)
	if m == nil {
		return 0, false
	}
	n, err := strconv.Atoi(m[1] + m[2] + m[3] + m[4])
	return n, err == nil && n > 0
}

// packs asks whether a count is one of packs, where the row speaks of packs: "Bag of
// 100" with 2. There surely are so many pieces as are written down.
func (t *taking) packs(cells []string, r *Row, e *entry, at int, text string, n int) {
	unit, _ := t.cell(cells, unitField)
	if packs, _ := t.cell(cells, packsField); !unknown(unit) || !unknown(packs) {
		return // it says what is counted
	}
	if t.heading.column(countField) < 0 || !isBare(text) {
		return
	}
	in, _ := t.cell(cells, packField)
	size, _ := t.cell(cells, sizeField)
	each, known := inPack(in, e.label+" "+size)
	if !known || each == 1 {
		return
	}
	t.askPacks(r, e, at, n, each)
}

// askPacks asks whether a count is one of packs of so many.
func (t *taking) askPacks(r *Row, e *entry, at, n, each int) {
	e.fact(r, at, "count", fmt.Sprintf("taken as %d pieces, which may be %d packs of %d", n, n, each))
	t.asks = append(t.asks, fmt.Sprintf("Row %d, %s: are there %d pieces, or %d packs of %d (%d pieces)? %d is taken. Write the pieces in %s.",
		r.Number, cut(r.Words, 40), n, n, each, n*each, n, t.placeOf(at)))
}

// placeOf is a column as it is said.
func (t *taking) placeOf(at int) string {
	if at < 0 || at >= len(t.heading.list) || t.heading.list[at].heading == "" {
		return "column " + Letter(max(at, 0))
	}
	return fmt.Sprintf("column %s, %s", Letter(at), t.heading.list[at].heading)
}

// brokenFormula reports whether a cell is what a spreadsheet shows for a formula without
// a value.
func brokenFormula(cell string) bool {
	switch strings.ToLower(cell) {
	case "#n/a", "#ref!", "#value!", "#div/0!", "#name?", "#null!", "#num!":
		return true
	}
	return strings.HasPrefix(strings.ToLower(cell), "err:")
}

// unknown reports whether a cell says nothing.
func unknown(cell string) bool {
	switch strings.ToLower(cell) {
	case "", "?", "??", "???", "n/a", "na", "unknown", "not known", "tbc", "tba", "don't know", "dont know", ".", "…", "...", "-", "–", "—":
		return true
	}
	return brokenFormula(cell)
}

// price notes what one piece costs. What a pack costs is no price of a piece.
func (t *taking) price(cells []string, r *Row, e *entry) {
	price, at := t.cell(cells, priceField)
	if unknown(price) {
		return
	}
	for i, c := range t.heading.list {
		if c.field == priceField && c.rival && i < len(cells) && !unknown(cells[i]) && cells[i] != price {
			r.say(at, "two prices, %s and %s: neither is used", units.Quoted(price), units.Quoted(cells[i]))
			return
		}
	}
	in, _ := t.cell(cells, packField)
	size, _ := t.cell(cells, sizeField)
	each, known := inPack(in, e.label+" "+size)
	text, sure := readPrice(price)
	switch {
	case text == "" && packPrice.MatchString(price):
		r.say(at, "%s is the price of a pack, not of one: not used", units.Quoted(price))
	case text == "":
		r.say(at, "%s is not a price: not used", units.Quoted(price))
	case known && each > 1 && !sure:
		r.say(at, "%s may be the price of a pack of %d: not used", units.Quoted(price), each)
	default:
		e.price = text
	}
}

var (
	packPrice  = pattern.Must(`(?i)\b(?:per|for|a|an|of)\b|/|@|pk|pack|bag|box|doz|\bx\b`)
	eachPrice  = pattern.Must(`^(?:£|\$|€)?(\d{1,6})(?:[.,](\d{1,2}))?(?:£|\$|€)?(each|ea|apiece|perpiece|perone|pereach|/each|/ea|/pc|pc)?\.?(?:inc\.?vat|incvat)?$`)
	pencePrice = pattern.Must(`^(\d{1,4})(?:p|pence)(each|ea|apiece|perpiece|/each|/ea)?\.?$`)
)

// readPrice is a price as a cupboard file has it, without its currency; "" if it is
// none. sure says that it is written with a word for one piece.
func readPrice(cell string) (text string, sure bool) {
	plain := strings.ReplaceAll(strings.ToLower(cell), " ", "")
	if m := pencePrice.FindStringSubmatch(plain); m != nil {
		whole := fmt.Sprintf("%03s", m[1])
		if n, err := strconv.Atoi(m[1]); err == nil {
			whole = fmt.Sprintf("%03d", n)
		}
		return whole[:len(whole)-2] + "." + whole[len(whole)-2:], m[2] != ""
	}
	m := eachPrice.FindStringSubmatch(plain)
	switch {
	case m == nil:
		return "", false
	case m[2] == "":
		return m[1], m[3] != ""
	}
	return m[1] + "." + (m[2] + "0")[:2], m[3] != ""
}
