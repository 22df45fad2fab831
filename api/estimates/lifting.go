package estimates

import (
	"seamwright/api/wire"
	"seamwright/service/estimate"
	"seamwright/service/hardware"
	"seamwright/service/measure"
)

// readLifting reads how pieces are lifted; nil when nobody asks.
func readLifting(site *wire.Object) *estimate.LiftingOrder {
	if !site.Has("lift") {
		return nil
	}
	o := site.Child("lift")
	return &estimate.LiftingOrder{
		Horizontal: o.DistanceIfThere("horizontal"),
		Height:     o.DistanceIfThere("height"),
		Travel:     o.DistanceIfThere("travel"),
		Lift: hardware.Lift{
			Asymmetry: measure.Angle(o.Number("asymmetry")) * measure.Degree,
			PerMinute: o.Number("per_minute"),
			Hours:     o.Number("hours"),
			Coupling:  hardware.Coupling(o.Text("coupling")),
		},
		Told: estimate.LiftTold{PerMinute: o.Has("per_minute"), Hours: o.Has("hours")},
	}
}

// walkLifting walks how the top is lifted; nothing where nobody asked.
func walkLifting(f *wire.Fields, at **estimate.Lifting) {
	if !f.OpenIf("lifting", *at != nil) {
		return
	}
	if f.Reads() {
		*at = new(estimate.Lifting)
	}
	t := *at
	if f.OpenAt("lift") {
		f.Length("horizontal", &t.Lift.Horizontal)
		f.Length("height", &t.Lift.Height)
		f.Length("travel", &t.Lift.Travel)
		f.Angle("asymmetry", &t.Lift.Asymmetry)
		wire.Number(f, "per_minute", &t.Lift.PerMinute, 4)
		wire.Number(f, "hours", &t.Lift.Hours, 4)
		wire.Word(f, "coupling", &t.Lift.Coupling)
		f.Close()
	}
	WalkMultipliers(f, &t.Multipliers)
	WalkLimit(f, &t.Limit)
	wire.List(f, "pieces", &t.Pieces, func(f *wire.Fields, x *estimate.Lifted) {
		f.Open()
		wire.Word(f, "run", &x.Run)
		walkLifted(f, x)
		f.Close()
	})
	if f.OpenOrNull("joined", t.Joined != nil) {
		if t.Joined == nil {
			t.Joined = new(estimate.Lifted)
		}
		walkLifted(f, t.Joined)
		f.Mass("hardware", &t.Joined.Hardware)
		f.Close()
	}
	f.Close()
}

func walkLifted(f *wire.Fields, x *estimate.Lifted) {
	f.Mass("weight", &x.Mass)
	f.Pair("centre", &x.Centre.X, &x.Centre.Y)
	f.Made("along", &x.Along)
	f.Made("from_wall", &x.FromWall)
	wire.Int(f, "people", &x.People)
	f.Mass("share", &x.Share)
	wire.NumberOrNull(f, "index", &x.Index, 4)
	wire.IntOrNull(f, "people_enough", &x.Enough)
	wire.Word(f, "text", &x.Text)
}

// WalkMultipliers walks the multipliers of the lifting equation.
func WalkMultipliers(f *wire.Fields, m *hardware.LiftMultipliers) {
	if !f.OpenAt("multipliers") {
		return
	}
	wire.Number(f, "horizontal", &m.Reach, 4)
	wire.Number(f, "vertical", &m.Height, 4)
	wire.Number(f, "distance", &m.Travel, 4)
	wire.Number(f, "asymmetry", &m.Twist, 4)
	wire.Number(f, "frequency", &m.Frequency, 4)
	wire.Number(f, "coupling", &m.Coupling, 4)
	f.Close()
}

// WalkLimit walks what one person should lift, to more places than a scale has.
func WalkLimit(f *wire.Fields, limit *measure.Mass) {
	unit := measure.Kilogram
	if f.Units == measure.Inches {
		unit = measure.Pound
	}
	number := float64(*limit / unit)
	if wire.Number(f, "limit", &number, 3); f.Reads() {
		*limit = measure.Mass(number) * unit
	}
}
