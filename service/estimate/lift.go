package estimate

import (
	"fmt"

	"seamwright/service/catalogue"
	"seamwright/service/hardware"
	"seamwright/service/measure"
	"seamwright/service/source"
)

// LiftOrder asks whether so many people may lift a load.
type LiftOrder struct {
	Units   measure.System
	Weight  measure.Mass
	People  int // default 1
	Lift    hardware.Lift
	Told    LiftTold // what the caller said; the rest takes a default
	Explain bool
}

// LiftTold is what of a lift was said.
type LiftTold struct{ PerMinute, Hours bool }

// LiftAnswer is what one person should lift at most.
type LiftAnswer struct {
	Units       measure.System
	Weight      measure.Mass
	People      int
	Share       measure.Mass // of the weight, each person's
	Multipliers hardware.LiftMultipliers
	Limit       measure.Mass // one person's; 0: no such lift
	Index       float64      // share over limit; 0: no such lift
	Enough      int          // people with whom the index is at most 1; 0: no such lift
	Cautions    []string
	Grounds
}

// liftCautions say what the equation is not meant for.
var liftCautions = []string{
	"The equation is meant for one person who lifts with both hands, standing, without stopping on the way. It is not meant " +
		"for carrying, pushing or pulling, nor for lifting by several people: a load is never shared evenly, and each " +
		"person's hold depends on the others. Shared among several, its limit is an indication.",
	"It does not see stairs, narrow ways, slippery floors, sharp edges, heat, or a load that sways. Work out both ends of the " +
		"lift, and keep to the worse. Rules for work and a person who knows them decide.",
}

// Lift works out a lift. Faults carry pointers into the request.
func Lift(order LiftOrder, cat *catalogue.Snapshot) (*LiftAnswer, error) {
	w := alone(order.Units, order.Explain, cat)
	l := &order.Lift
	if order.People == 0 {
		order.People = 1
		w.assume("/people", 1, "the lift of one person")
	}
	w.assumeLift(l, order.Told, "")
	if err := checkLift(l); err != nil {
		return nil, err
	}
	form := hardware.LiftFormOf(order.Units)
	a := &LiftAnswer{Units: order.Units, Weight: order.Weight, People: order.People,
		Share: order.Weight / measure.Mass(order.People), Cautions: liftCautions}
	if a.Limit, a.Multipliers = form.Limit(*l); a.Limit > 0 {
		a.Index = float64(a.Share / a.Limit)
		a.Enough = hardware.People(order.Weight, a.Limit)
	}
	w.warnLift(a)
	w.explainLift(a, form)
	w.cite(source.NIOSHLifting)
	a.Grounds = w.grounds()
	return a, nil
}

// assumeLift takes what of a lift was not said; at is where it could have been.
func (w *work) assumeLift(l *hardware.Lift, told LiftTold, at string) {
	if !told.PerMinute {
		l.PerMinute = 0.2
		w.assume(at+"/per_minute", 0.2, "lifted once in a while: once in five minutes or less")
	}
	if !told.Hours {
		l.Hours = 1
		w.assume(at+"/hours", 1, "lifting lasts an hour at most, followed by rest")
	}
	if l.Coupling == "" {
		l.Coupling = hardware.PoorGrip
		w.assume(at+"/coupling", string(hardware.PoorGrip), "a slab has no handles and hard edges: the safe side")
	}
}

func checkLift(l *hardware.Lift) error {
	if l.Hours > hardware.LongestShift {
		return impossible("/hours", "The equation looks at up to 8 hours of lifting a day, no longer.", "")
	}
	return nil
}

// outOfBounds is what is said of a lift of which the equation leaves nothing.
const outOfBounds = "This lift is out of the equation's bounds: nobody should lift anything in this way. " +
	"A multiplier of 0 says what is too far, too high, turned too much or too often."

func (w *work) warnLift(a *LiftAnswer) {
	switch {
	case a.Limit <= 0:
		w.warn("out_of_bounds", Serious, "", outOfBounds)
	case a.Index > 3:
		w.warn("lift_dangerous", Serious, "/weight", fmt.Sprintf("Each person lifts %.1f times the limit: nearly everybody risks an injury. "+
			"With %d people it is within the limit, as far as they can share it.", a.Index, a.Enough))
	case a.Index > 1:
		w.warn("lift_heavy", Caution, "/weight", fmt.Sprintf("Each person lifts %.2f times the limit, which some will not do without injury. "+
			"With %d people it is within the limit, as far as they can share it.", a.Index, a.Enough))
	}
}

func (w *work) explainLift(a *LiftAnswer, form hardware.LiftForm) {
	m := &a.Multipliers
	w.explain("limit", "LC · HM · VM · DM · AM · FM · CM", a.Limit.Number(w.units), massUnit(w.units), source.NIOSHLifting,
		Input{"LC", form.Load.Number(w.units), massUnit(w.units)}, Input{"HM", measure.Round(m.Reach, 4), ""},
		Input{"VM", measure.Round(m.Height, 4), ""}, Input{"DM", measure.Round(m.Travel, 4), ""},
		Input{"AM", measure.Round(m.Twist, 4), ""}, Input{"FM", m.Frequency, ""}, Input{"CM", m.Coupling, ""})
	if a.Limit > 0 {
		w.explain("index", "weight ÷ people ÷ limit", measure.Round(a.Index, 4), "", source.NIOSHLifting,
			Input{"share", a.Share.Number(w.units), massUnit(w.units)})
	}
}

func massUnit(units measure.System) string {
	if units == measure.Inches {
		return "lb"
	}
	return "kg"
}
