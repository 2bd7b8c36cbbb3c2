package drawing

// Role is what a part of a page is to who has it read out. It changes nothing that
// is seen.
type Role string

// The roles (ISO 32000-1, 14.8.4: standard structure types, or in the case of the two
// heads of table cells, types with a scope).
const (
	Title      Role = "H1"
	Section    Role = "H2"
	Sentence   Role = "P"
	List       Role = "L"
	ListItem   Role = "LI"
	Table      Role = "Table"
	TableRow   Role = "TR"
	ColumnHead Role = "TH column"
	RowHead    Role = "TH row"
	TableCell  Role = "TD"
	// Furniture stands on every page and is not read out: feet, running heads.
	Furniture Role = "Artifact"
)

// Tagger is a Painter for a medium that can say what the parts of a page are.
type Tagger interface {
	// Tag and Untag enclose a part.
	Tag(Role)
	Untag()
}

// Tagged adds a part with a role and returns it to be drawn on.
func (c *Canvas) Tagged(role Role) *Canvas {
	g := &Group{Role: role}
	c.items = append(c.items, item{group: g})
	return &g.Canvas
}

// paintTagged paints a part that has a role.
func (g *Group) paintTagged(to Painter, by Point) {
	if t, ok := to.(Tagger); ok {
		t.Tag(g.Role)
		defer t.Untag()
	}
	g.paint(to, by)
}
