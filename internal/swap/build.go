package swap

import (
	"findrive/internal/built"
	"findrive/internal/parts"
)

// Build is the model as package built sees it, with what else there is to change it with;
// its own parts are always there. left may be nil.
func (m *Model) Build(left *parts.Cupboard) *built.Build {
	alone := left == nil
	if alone {
		left = &parts.Cupboard{}
	}
	b := built.Placed(m.Drive, m.Brief, pooled(left, own(m.Drive, m.Brief), Slot{}, false))
	b.Name, b.Alone = m.Name, alone
	if turns := m.Drive.MotorTurns; turns != 0 { // as it was found, where it may turn either way
		b.Drive.MotorTurns = turns
	}
	return b
}

// Without is what is left of a cupboard once a model has been built from it.
func (m *Model) Without(cup *parts.Cupboard) *parts.Cupboard {
	taken := own(m.Drive, m.Brief)
	uses := func(kind, name string) int {
		n := 0
		add := func(k string, it *parts.Item, times int) {
			if k == kind && it.Name == name {
				n += times
			}
		}
		add("motor", &m.Drive.Motor.Item, 1)
		add("cells", &m.Drive.Holder.Item, 1)
		for i := range taken.Pulleys {
			add("pulley", &taken.Pulleys[i].Item, 1)
		}
		for i := range taken.Bands {
			add("band", &taken.Bands[i].Item, 1)
		}
		for i := range taken.Sleeves {
			add("sleeve", &taken.Sleeves[i].Item, 1)
		}
		for i := range taken.Wheels {
			add("wheel", &taken.Wheels[i].Item, 1)
		}
		for i := range taken.Drums {
			add("drum", &taken.Drums[i].Item, 1)
		}
		return n
	}
	return cup.Recounted(func(kind string, it *parts.Item) int { return max(0, it.Count-uses(kind, it.Name)) })
}
