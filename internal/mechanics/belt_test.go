package mechanics

import (
	"math"
	"testing"

	"github.com/peterstace/simplefeatures/geom"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/integrate/quad"
	"pgregory.net/rapid"

	"findrive/internal/units"
)

func drawBelt(t *rapid.T) Belt {
	d1 := units.Millimetres(rapid.Float64Range(3, 150).Draw(t, "driver"))
	d2 := units.Millimetres(rapid.Float64Range(3, 150).Draw(t, "driven"))
	room := units.Millimetres(rapid.Float64Range(1.0001, 8).Draw(t, "room"))
	return Belt{Driver: d1, Driven: d2, Centre: room * (d1 + d2) / 2, Crossed: rapid.Bool().Draw(t, "crossed")}
}

// An open band is the outline of the convex hull of the two pulley circles.
func TestOpenBeltIsConvexHull(t *testing.T) {
	const sides = 4000
	circle := func(coordinates []float64, x, diameter units.Millimetres) []float64 {
		for i := range sides {
			sin, cos := math.Sincos(2 * math.Pi * float64(i) / sides)
			coordinates = append(coordinates, float64(x)+float64(diameter)/2*cos, float64(diameter)/2*sin)
		}
		return coordinates
	}
	for _, b := range []Belt{
		{Driver: 8, Driven: 40, Centre: 45},
		{Driver: 8, Driven: 100, Centre: 70},
		{Driver: 100, Driven: 4, Centre: 55},
		{Driver: 30, Driven: 30, Centre: 31},
	} {
		points := circle(circle(nil, 0, b.Driver), b.Centre, b.Driven)
		line := geom.NewLineString(geom.NewSequence(points, geom.DimXY))
		hull := line.AsGeometry().ConvexHull()
		require.True(t, hull.IsPolygon())
		outline := hull.MustAsPolygon().ExteriorRing().Length()
		assert.InEpsilon(t, outline, float64(b.Length()), 1e-6, b)
	}
}

// The usual approximation is 1.26 mm short for this drive.
func TestLengthIsExactWhereApproximationIsNot(t *testing.T) {
	b := Belt{Driver: 8, Driven: 100, Centre: 70}
	approximate := 2*70 + math.Pi/2*108 + 92.0*92/(4*70)
	assert.InDelta(t, 1.26, float64(b.Length())-approximate, 0.005)
}

// Both paths by integration: the length of a closed path's outline of two discs
// is that of its strands and of the arcs, each arc an integral over angle.
func TestLengthIsSpansAndArcs(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := drawBelt(t)
		arc := func(diameter units.Millimetres, angle units.Radians) float64 {
			return quad.Fixed(func(float64) float64 { return float64(diameter) / 2 }, 0, float64(angle), 8, nil, 0)
		}
		// The free strand from the tangent points themselves.
		d := b.Strands(1).DriverTight
		x1, y1 := -d.Y*float64(b.Driver)/2, d.X*float64(b.Driver)/2
		x2, y2 := float64(b.Centre)-d.Y*float64(b.Driven)/2, d.X*float64(b.Driven)/2
		if b.Crossed {
			x2, y2 = float64(b.Centre)+d.Y*float64(b.Driven)/2, -d.X*float64(b.Driven)/2
		}
		span := math.Hypot(x2-x1, y2-y1)
		assert.InDelta(t, span, float64(b.Span()), 1e-9*float64(b.Centre))
		want := 2*span + arc(b.Driver, b.DriverArc()) + arc(b.Driven, b.DrivenArc())
		assert.InEpsilon(t, want, float64(b.Length()), 1e-9)
		if span > 1e-6*float64(b.Centre) {
			assert.InDelta(t, d.X, (x2-x1)/span, 1e-6, "the strand pulls along itself")
			assert.InDelta(t, d.Y, (y2-y1)/span, 1e-6)
		}
	})
}

func TestBeltProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := drawBelt(t)
		length := float64(b.Length())

		equal := Belt{Driver: b.Driver, Driven: b.Driver, Centre: b.Driver + b.Centre}
		assert.InEpsilon(t, float64(2*equal.Centre)+math.Pi*float64(b.Driver), float64(equal.Length()), 1e-12)

		if b.Crossed {
			assert.Equal(t, b.DriverArc(), b.DrivenArc())
			assert.Greater(t, float64(b.DriverArc()), math.Pi)
			open := b
			open.Crossed = false
			assert.Greater(t, length, float64(open.Length()))
		} else {
			assert.InEpsilon(t, 2*math.Pi, float64(b.DriverArc()+b.DrivenArc()), 1e-12)
			assert.Equal(t, b.Driver <= b.Driven, b.DriverArc() <= b.DrivenArc())
		}

		k := units.Millimetres(rapid.Float64Range(0.01, 100).Draw(t, "scale"))
		scaled := Belt{Driver: k * b.Driver, Driven: k * b.Driven, Centre: k * b.Centre, Crossed: b.Crossed}
		assert.InEpsilon(t, float64(k)*length, float64(scaled.Length()), 1e-12)

		swapped := Belt{Driver: b.Driven, Driven: b.Driver, Centre: b.Centre, Crossed: b.Crossed}
		assert.InEpsilon(t, length, float64(swapped.Length()), 1e-12)

		wider := b
		wider.Centre *= units.Millimetres(rapid.Float64Range(1.0001, 2).Draw(t, "wider"))
		assert.Greater(t, float64(wider.Length()), length)

		assert.False(t, b.Overlaps())
		centre, ok := CentreForLength(b.Driver, b.Driven, b.Length(), b.Crossed)
		require.True(t, ok)
		// Touching crossed pulleys: the length is flat there in the centre distance.
		back := Belt{Driver: b.Driver, Driven: b.Driven, Centre: centre, Crossed: b.Crossed}
		assert.InEpsilon(t, length, float64(back.Length()), 1e-12)
		assert.InEpsilon(t, float64(b.Centre), float64(centre), 1e-6)
	})
}

func TestCentreForLengthLimits(t *testing.T) {
	for _, crossed := range []bool{false, true} {
		touching := Belt{Driver: 10, Driven: 50, Centre: 30, Crossed: crossed}
		_, ok := CentreForLength(10, 50, touching.Length()-0.01, crossed)
		assert.False(t, ok)
		c, ok := CentreForLength(10, 50, touching.Length(), crossed)
		assert.True(t, ok)
		assert.InEpsilon(t, 30, float64(c), 1e-6)
	}
	for _, length := range []units.Millimetres{0, -1, units.Millimetres(math.NaN()), units.Millimetres(math.Inf(1))} {
		_, ok := CentreForLength(10, 50, length, false)
		assert.False(t, ok, length)
	}
}

func TestCentreForArc(t *testing.T) {
	assert.InEpsilon(t, 40, float64(CentreForArc(10, 50, units.Degrees(120))), 1e-12, "(D-d)/C = 1 gives 120 degrees")
	assert.Equal(t, units.Millimetres(0), CentreForArc(20, 20, math.Pi), "equal pulleys always have half a turn")
	assert.Equal(t, units.Millimetres(0), CentreForArc(20, 22, units.Degrees(120)), "nearly equal ones have 120 degrees at any spacing")
	assert.True(t, math.IsInf(float64(CentreForArc(20, 22, math.Pi)), 1))
	assert.True(t, math.IsInf(float64(CentreForArc(20, 20, 3.2)), 1))
	rapid.Check(t, func(t *rapid.T) {
		b := drawBelt(t)
		arc := units.Radians(rapid.Float64Range(0.1, 3.1).Draw(t, "arc"))
		c := CentreForArc(b.Driver, b.Driven, arc)
		small := func(c units.Millimetres) units.Radians {
			open := Belt{Driver: b.Driver, Driven: b.Driven, Centre: c}
			return min(open.DriverArc(), open.DrivenArc())
		}
		if c == 0 {
			assert.GreaterOrEqual(t, small((b.Driver+b.Driven)/2), arc-1e-9)
			return
		}
		assert.InDelta(t, float64(arc), float64(small(c)), 1e-7)
		assert.Less(t, small(0.99*c), arc)
	})
}

func TestStrandsPullTheRightWay(t *testing.T) {
	open := Belt{Driver: 10, Driven: 50, Centre: 60}
	s := open.Strands(+1)
	assert.Greater(t, s.DriverTight.Y, 0.0, "an anticlockwise driver draws the band in over its top, up to the larger pulley")
	assert.InDelta(t, -s.DriverTight.Y, s.DriverSlack.Y, 1e-12)
	assert.Greater(t, s.DriverTight.X, 0.0)
	assert.Equal(t, s.DriverTight.Opposite(), s.DrivenTight)
	assert.Equal(t, s.DriverSlack.Opposite(), s.DrivenSlack)
	down := Belt{Driver: 50, Driven: 10, Centre: 60}.Strands(+1)
	assert.Less(t, down.DriverTight.Y, 0.0, "down to the smaller pulley")
	over := Belt{Driver: 10, Driven: 50, Centre: 60, Crossed: true}.Strands(+1)
	assert.InDelta(t, -0.5, over.DriverTight.Y, 1e-12, "a crossed band goes down to the other side")

	rapid.Check(t, func(t *rapid.T) {
		b := drawBelt(t)
		turns := rapid.SampledFrom([]int{-1, 1}).Draw(t, "turns")
		tight := units.Newtons(rapid.Float64Range(0.1, 3).Draw(t, "tight"))
		slack := tight * units.Newtons(rapid.Float64Range(0, 1).Draw(t, "slack"))
		s := b.Strands(turns)

		// The torque of the strands about each axle, from the tangent points.
		// On the driver it resists, on the driven pulley it drives.
		side := float64(turns)
		driverArm, drivenArm := float64(b.Driver)/2*side, float64(b.Driven)/2*side
		// The tight strand lies on the left of its own pull when the driver
		// turns anticlockwise.
		left := func(d Direction, arm float64) (x, y float64) { return -d.Y * arm, d.X * arm }
		moment := func(x, y float64, pull units.Newtons, d Direction) float64 {
			return x*float64(pull)*d.Y - y*float64(pull)*d.X
		}
		x, y := left(s.DriverTight, driverArm)
		onDriver := moment(x, y, tight, s.DriverTight)
		x, y = left(s.DriverSlack, -driverArm)
		onDriver += moment(x, y, slack, s.DriverSlack)
		assert.InDelta(t, -side*float64(tight-slack)*float64(b.Driver)/2, onDriver, 1e-9)

		// On the driven pulley the tight strand ends on the same side for an
		// open band and on the other for a crossed one, which reverses it.
		far := drivenArm
		if b.Crossed {
			far = -far
		}
		x, y = left(s.DriverTight, far)
		onDriven := moment(x, y, tight, s.DrivenTight)
		x, y = left(s.DriverSlack, -far)
		onDriven += moment(x, y, slack, s.DrivenSlack)
		drivenTurns := side
		if b.Crossed {
			drivenTurns = -side
		}
		assert.InDelta(t, drivenTurns*float64(tight-slack)*float64(b.Driven)/2, onDriven, 1e-9)

		// Forces are equal and opposite, and no larger than the pulls' sum.
		f1 := HubLoad(tight, slack, s.DriverTight, s.DriverSlack)
		f2 := HubLoad(tight, slack, s.DrivenTight, s.DrivenSlack)
		assert.InDelta(t, 0, float64(f1.Plus(f2).Size()), 1e-12)
		assert.LessOrEqual(t, float64(f1.Size()), float64(tight+slack)+1e-12)
		assert.Greater(t, f1.X, units.Newtons(0), "the band draws the axles together")
	})

	turned := Direction{1, 0}.Turned(math.Pi / 2)
	assert.InDelta(t, 0, turned.X, 1e-12)
	assert.InDelta(t, 1, turned.Y, 1e-12)
}
