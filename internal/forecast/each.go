package forecast

import "findrive/internal/drive"

// Room is what differs in one classroom for a motor, its cells and the load: the letters
// of docs/model.md in numbers.
type Room struct {
	Free, Stall float64                  // of the motor, in rpm and N·mm
	Load, Swing float64                  // of what is asked of the output steadily, and by a turn's swing, as shares of the likely
	Rub         float64                  // friction of axles on which bands pull, likewise
	Pull, Grip  float64                  // of the bands, and in the grooves, likewise
	Cut         float64                  // from -1 to 1: how far the velocity ratio is out, of how far it may be
	Off         [drive.MaxStages]float64 // mm by which the spacing of each stage, the motor's first, is too long
}

// Each lists the classrooms of a class, in an order of no meaning.
func (c *Class) Each() [Rooms]Room {
	var out [Rooms]Room
	for i := range c.rooms {
		o := &c.rooms[i]
		out[i] = Room{Free: o.free, Stall: o.stall, Load: o.steady, Swing: o.swing, Rub: o.rub, Pull: o.pull, Grip: o.grip, Cut: o.cut, Off: o.off}
	}
	return out
}
