package sheet

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"findrive/internal/drawing"
	"findrive/internal/units"
)

// between is the gap between two columns.
const between units.Millimetres = 6

// trial is a flow like f with one column, on paper without end: what is laid out
// on it is only measured.
func (f *flow) trial(left, wide units.Millimetres) *flow {
	t := *f
	t.doc, t.paper.Height = &drawing.Drawing{}, 1e6
	t.left, t.wide, t.measuring = left, wide, true
	t.list, t.grid = &tagged{}, &tagged{}
	t.sheet()
	return &t
}

// height is how high blocks are, laid out so wide.
func (f *flow) height(blocks []Block, wide units.Millimetres) units.Millimetres {
	t := f.trial(f.left, wide)
	t.y++ // not as at the head of a sheet
	t.blocks(blocks)
	return t.y - margin - 1
}

// columns lays blocks out side by side, on one sheet; what is too high for any
// sheet, or takes less height in the whole width, goes one below the other.
func (f *flow) columns(c *Columns) {
	left, right, high := f.sideBySide(c)
	if high == 0 {
		f.blocks(c.Left)
		f.blocks(c.Right)
		return
	}
	f.room(high - f.look.gap)
	top, was := f.y, *f
	// Here all is known to fit, whatever a heading would like to have under it.
	f.paper.Height += high
	f.wide = left
	f.blocks(c.Left)
	f.y, f.left, f.wide = top, was.left+left+between, right
	f.blocks(c.Right)
	f.left, f.wide, f.paper = was.left, was.wide, was.paper
	f.y = top + high
}

// sideBySide is how wide two columns are, and how high; 0 if they had better go one
// below the other.
func (f *flow) sideBySide(c *Columns) (left, right, high units.Millimetres) {
	share := c.Share
	if share == 0 {
		share = 0.5
	}
	left = (f.wide - between) * units.Millimetres(share)
	right = f.wide - between - left
	high = max(f.height(c.Left, left), f.height(c.Right, right))
	if high > f.whole() || f.height(append(slices.Clone(c.Left), c.Right...), f.wide) < high {
		high = 0
	}
	return left, right, high
}

const panelPad units.Millimetres = 2.5

// panel lays blocks out in a frame, on one sheet; without the frame if they are
// too high for that.
func (f *flow) panel(blocks []Block) {
	high := f.height(blocks, f.wide-2*panelPad) - f.look.gap + 2*panelPad
	if high > f.whole() {
		f.blocks(blocks)
		return
	}
	f.room(high)
	top, was := f.y, *f
	f.paper.Height += high
	f.y, f.left, f.wide = top+panelPad, f.left+panelPad, f.wide-2*panelPad
	f.blocks(blocks)
	f.left, f.wide, f.paper = was.left, was.wide, was.paper
	f.at.Rectangle(drawing.Rect{X0: f.left, Y0: top, X1: f.left + f.wide, Y1: top + high}, drawing.Outline.Wider(0.7), drawing.NoFill)
	f.y = top + high + f.look.gap
}

// steps lays steps out one below the other, or in two columns: of each sheet the
// left one is filled first, and on the last both are about as high.
func (f *flow) steps(s *Steps) {
	f.list = &tagged{}
	if !s.Halves || len(s.Items) < 2 {
		for i := range s.Items {
			f.step(s, i, &s.Items[i])
		}
		return
	}
	was := *f
	half := (f.wide - between) / 2
	heights := make([]units.Millimetres, len(s.Items))
	for i := range s.Items {
		t := f.trial(f.left, half)
		t.step(s, i, &s.Items[i])
		heights[i] = t.y - margin
	}
	for from := 0; from < len(s.Items); {
		first, last := halves(heights[from:], f.bottom()-f.y)
		if first == 0 && f.y > f.top {
			f.sheet()
			continue
		}
		first = max(first, 1)
		top, end := f.y, f.y
		f.wide = half
		for i := from; i < from+last || i < from+first; i++ {
			if i == from+first {
				end, f.y, f.left = f.y, top, was.left+half+between
			}
			f.step(s, i, &s.Items[i])
		}
		f.left, f.wide = was.left, was.wide
		f.y = max(f.y, end)
		from += max(first, last)
		if from < len(s.Items) {
			f.sheet()
		}
	}
}

// halves shares things out over two columns no higher than room: the first so
// many go left, those up to last right. If all fit, the columns are as even as
// can be; else each takes what it holds.
func halves(heights []units.Millimetres, room units.Millimetres) (first, last int) {
	best := units.Millimetres(math.Inf(1))
	for i := range len(heights) + 1 {
		if high := max(sum(heights[:i]), sum(heights[i:])); high <= room && high < best {
			best, first = high, i
		}
	}
	if first > 0 {
		return first, len(heights)
	}
	for first < len(heights) && sum(heights[:first+1]) <= room {
		first++
	}
	for last = first; last < len(heights) && sum(heights[first:last+1]) <= room; last++ {
	}
	return first, last
}

const (
	tickBox  units.Millimetres = 3.6
	adultTag                   = "ADULT"
)

// step is one step with its box, number, tag and check, kept together.
func (f *flow) step(s *Steps, i int, step *Step) {
	style := f.look.body
	x := f.left
	if s.Ticks {
		x += tickBox + 2.4
	}
	number := "•"
	switch {
	case s.Numbered:
		number = fmt.Sprintf("%d", i+1)
	case s.Ticks:
		number = ""
	}
	bold := style.InBold()
	indent := x
	if number != "" {
		indent += max(bold.Width("00")+1.8, 5)
	}
	tagWidth := units.Millimetres(0)
	if step.Adult {
		tagWidth = bold.Width(adultTag) + 4
	}
	lines := hanging(step.Do, style, f.left+f.wide-indent, tagWidth)
	var check []string
	if step.Check != "" {
		check = style.Wrap("Check: "+step.Check, f.left+f.wide-indent-3)
	}
	lead := f.look.leading * style.Size
	f.room(lead * units.Millimetres(len(lines)+len(check)))
	item := f.on(drawing.List, f.list).Tagged(drawing.ListItem)
	if s.Ticks {
		item.Rectangle(drawing.Rect{X0: f.left, Y0: f.y - 0.5, X1: f.left + tickBox, Y1: f.y - 0.5 + tickBox}, drawing.Outline, drawing.NoFill)
	}
	item.Text(drawing.Point{X: x, Y: f.y}, number, bold.WithLevel(drawing.Below))
	for k, l := range lines {
		at := drawing.Point{X: indent, Y: f.y}
		if k == 0 && step.Adult {
			item.Text(at.Plus(1.2, 0), adultTag, bold.WithLevel(drawing.Below))
			// Narrow below, where letters of the next line reach up.
			item.Rectangle(drawing.Rect{X0: at.X, Y0: at.Y - 0.6, X1: at.X + bold.Width(adultTag) + 2.4, Y1: at.Y + bold.CapHeight() + 0.5}, drawing.Outline.Wider(drawing.Medium), drawing.NoFill)
			at.X += tagWidth
		}
		item.Text(at, l, style.WithLevel(drawing.Below))
		f.y += lead
	}
	for k, l := range check {
		item.Text(drawing.Point{X: indent + 3, Y: f.y}, l, style.WithLevel(drawing.Below))
		if k == 0 { // a mark at the side, so that checks are found at a glance
			item.Line(drawing.Point{X: indent + 1, Y: f.y - 0.3}, drawing.Point{X: indent + 1, Y: f.y + lead*units.Millimetres(len(check)) - 1.2}, drawing.Outline.Wider(0.9))
		}
		f.y += lead
	}
	f.y += 0.8
}

// hanging wraps words whose first line is shorter.
func hanging(words string, style drawing.Style, width, first units.Millimetres) []string {
	if first == 0 {
		return style.Wrap(words, width)
	}
	head := style.Wrap(words, width-first)
	if len(head) < 2 {
		return head
	}
	rest := strings.TrimSpace(strings.TrimPrefix(words, head[0]))
	return append(head[:1:1], style.Wrap(rest, width)...)
}

func (f *flow) boxes(b *Boxes) {
	high := max(min(b.Height, boxLeast+1), b.Height*f.look.boxes)
	f.room(high)
	n := units.Millimetres(len(b.Labels))
	const apart units.Millimetres = 3
	wide := (f.wide - apart*(n-1)) / n
	style := f.look.body
	for i, l := range b.Labels {
		x := f.left + units.Millimetres(i)*(wide+apart)
		f.at.Rectangle(drawing.Rect{X0: x, Y0: f.y, X1: x + wide, Y1: f.y + high}, drawing.Outline, drawing.NoFill)
		s, words := style.Fit(l, wide-4, drawing.Points(8))
		f.at.Text(drawing.Point{X: x + 2, Y: f.y + 2}, words, s.WithLevel(drawing.Below))
	}
	f.y += high + f.look.gap
}

func sum(list []units.Millimetres) (out units.Millimetres) {
	for _, l := range list {
		out += l
	}
	return out
}
