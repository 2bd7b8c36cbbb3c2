package built

import (
	"math"

	"findrive/internal/drive"
)

// days are the days on which a drive with a fault is worked out besides the likely one: the
// motor slow or fast, weak or strong, the cells flat or fresh, all that turns hard or easy, one
// of them at a time and each as far as it goes. Of things that are known to a range alone
// these are the points of a rule of the third degree: means and spreads of sums come out right
// (Stroud 1957).
func days() []drive.Conditions {
	const low, high = drive.Low, drive.High
	return []drive.Conditions{
		{MotorSpeed: low}, {MotorSpeed: high},
		{MotorTorque: low}, {MotorTorque: high},
		{CellVoltage: low, Cells: high}, {CellVoltage: high, Cells: low},
		{Bearings: high, LoadFriction: high, Load: high, BandPull: high}, {Bearings: low, LoadFriction: low, Load: low, BandPull: low},
	}
}

// daily is how fast a drive turns from day to day.
type daily struct {
	share float64 // of the days, the likely one among them, on which it turns
	// The logarithm of its turns on those days: the mean, and the standard deviation.
	mean, sd float64
}

// onDays works a drive out on every day; likely is its turns on the likely one, 0 if it does
// not turn.
func (b *Build) onDays(tweak func(*drive.Model), likely float64) daily {
	all := days()
	var logs []float64
	if likely > 0 {
		logs = append(logs, math.Log(likely))
	}
	for _, c := range all {
		if s, err := b.atWith(c, tweak); err == nil && s.stop == Turns && s.speed > 0 {
			logs = append(logs, math.Log(float64(s.speed)))
		}
	}
	out := daily{share: float64(len(logs)) / float64(len(all)+1)}
	for _, v := range logs {
		out.mean += v / float64(len(logs))
	}
	for _, v := range logs {
		out.sd += (v - out.mean) * (v - out.mean) / float64(len(logs))
	}
	out.sd = math.Sqrt(out.sd)
	return out
}
