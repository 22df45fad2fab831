package passage_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/fault"
	"seamwright/service/measure"
	"seamwright/service/passage"
)

// What a step must have and may not have, each wrong thing alone.
func TestStepsThatAreNoStepsAreRefused(t *testing.T) {
	t.Parallel()
	door := passage.Step{Kind: passage.Door, Width: 800, Height: 2000}
	corridor := passage.Step{Kind: passage.Turn, First: 900, Second: 1200}
	lift := passage.Step{Kind: passage.Lift, Width: 1100, Depth: 1400, Height: 2200}
	with := func(s passage.Step, set func(*passage.Step)) passage.Step {
		set(&s)
		return s
	}
	for name, c := range map[string]struct {
		step    passage.Step
		pointer string // empty: it is sound
		kind    fault.Kind
		says    string
	}{
		"a door":                     {door, "", 0, ""},
		"a square turn":              {corridor, "", 0, ""},
		"a turn under a ceiling":     {with(corridor, func(s *passage.Step) { s.Height = 2400 }), "", 0, ""},
		"the sharpest turn":          {with(corridor, func(s *passage.Step) { s.Angle = passage.LeastAngle }), "", 0, ""},
		"the widest turn":            {with(corridor, func(s *passage.Step) { s.Angle = passage.MostAngle }), "", 0, ""},
		"a lift":                     {lift, "", 0, ""},
		"a lift with a door":         {with(lift, func(s *passage.Step) { s.DoorWidth, s.DoorHeight = 800, 2000 }), "", 0, ""},
		"a door as large as its car": {with(lift, func(s *passage.Step) { s.DoorWidth, s.DoorHeight = 1100, 2200 }), "", 0, ""},
		"just a hand's room":         {with(door, func(s *passage.Step) { s.Width = 100 }), "", 0, ""},

		"no room for a hand": {with(door, func(s *passage.Step) { s.Width = 99.99 }), "/0/width", fault.Impossible, "lets no hand pass"},
		"a door without a width": {with(door, func(s *passage.Step) { s.Width = 0 }), "/0/width", fault.Invalid,
			"A door needs its clear width, height."},
		"a door without a height": {with(door, func(s *passage.Step) { s.Height = 0 }), "/0/height", fault.Invalid, "needs its clear"},
		"a door with a depth":     {with(door, func(s *passage.Step) { s.Depth = 900 }), "/0/depth", fault.Invalid, "A door has no depth."},
		"a door with an angle": {with(door, func(s *passage.Step) { s.Angle = 90 * measure.Degree }), "/0/angle", fault.Invalid,
			"A door has no angle."},
		"a lift with an angle": {with(lift, func(s *passage.Step) { s.Angle = 90 * measure.Degree }), "/0/angle", fault.Invalid,
			"A lift has no angle."},
		"half a turn":         {with(corridor, func(s *passage.Step) { s.Second = 0 }), "/0/second", fault.Invalid, "needs its clear"},
		"a turn with a width": {with(corridor, func(s *passage.Step) { s.Width = 900 }), "/0/width", fault.Invalid, "A turn has no width."},
		"a ceiling for nobody": {with(corridor, func(s *passage.Step) { s.Height = 99 }), "/0/height", fault.Impossible,
			"lets no hand pass"},
		"sharper than any corridor": {with(corridor, func(s *passage.Step) { s.Angle = 9.9 * measure.Degree }), "/0/angle",
			fault.Impossible, "Corridors meet at 10° to 179°, not at 9.9°"},
		"straight on": {with(corridor, func(s *passage.Step) { s.Angle = 180 * measure.Degree }), "/0/angle", fault.Impossible,
			"not at 180°"},
		"a lift without a depth": {with(lift, func(s *passage.Step) { s.Depth = 0 }), "/0/depth", fault.Invalid, "needs its clear"},
		"a lift with a corridor": {with(lift, func(s *passage.Step) { s.First = 900 }), "/0/first", fault.Invalid, "A lift has no first."},
		"a door wider than its car": {with(lift, func(s *passage.Step) { s.DoorWidth = 1101 }), "/0/door_width", fault.Impossible,
			"no larger than its car"},
		"a door higher than its car": {with(lift, func(s *passage.Step) { s.DoorHeight = 2201 }), "/0/door_height", fault.Impossible,
			"no larger than its car"},
		// of a car without a width only the width is missing, whatever its door
		"a door without a car": {with(lift, func(s *passage.Step) { s.Width, s.DoorWidth = 0, 800 }), "/0/width", fault.Invalid,
			"needs its clear"},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			faults := fault.All(passage.Check([]passage.Step{c.step}, measure.Millimetres))
			if c.pointer == "" {
				require.Empty(t, faults)
				return
			}
			require.Len(t, faults, 1)
			require.Equal(t, c.pointer, faults[0].Pointer)
			require.Equal(t, c.kind, faults[0].Kind)
			require.Contains(t, faults[0].Detail, c.says)
		})
	}
	bad := passage.Check([]passage.Step{door, {Kind: passage.Door}, lift, {Kind: passage.Turn, Second: 900}}, measure.Inches)
	var at []string
	for _, f := range fault.All(bad) {
		at = append(at, f.Pointer)
	}
	require.ElementsMatch(t, []string{"/1/width", "/1/height", "/3/first"}, at, "all that is wrong, each at its step")
}

// A clearance comes off what is told, leaves a thousandth of a millimetre at least, and makes nothing of what is not told.
func TestAClearanceComesOffEverySize(t *testing.T) {
	t.Parallel()
	s := passage.Step{Kind: passage.Turn, First: 900, Second: 1200, Angle: 80 * measure.Degree}
	require.Equal(t, passage.Step{Kind: passage.Turn, First: 875, Second: 1175, Angle: 80 * measure.Degree}, s.Lessened(25))
	require.Equal(t, measure.Length(900), s.First, "the step itself stays")
	lift := passage.Step{Kind: passage.Lift, Width: 1100, Depth: 1400, Height: 2200, DoorWidth: 800, DoorHeight: 2000}
	require.Equal(t, passage.Step{Kind: passage.Lift, Width: 1000, Depth: 1300, Height: 2100, DoorWidth: 700, DoorHeight: 1900},
		lift.Lessened(100))
	require.Equal(t, passage.Step{Kind: passage.Door, Width: 0.001, Height: 1000},
		passage.Step{Kind: passage.Door, Width: 800, Height: 1900}.Lessened(900))
}

// Each sentence says how a piece passes and what limits it, with lengths rounded down to what is written, half a millimetre.
func TestASentenceSaysHowAPiecePasses(t *testing.T) {
	t.Parallel()
	door, corridor, lift := passage.Step{Kind: passage.Door}, passage.Step{Kind: passage.Turn}, passage.Step{Kind: passage.Lift}
	for _, c := range []struct {
		step passage.Step
		v    passage.Verdict
		want string
	}{
		{door, passage.Verdict{Passes: true, Hold: passage.OnEdge, Longest: passage.Unlimited},
			"Carried on edge it passes the door, whatever its length."},
		{door, passage.Verdict{Passes: true, Hold: passage.Across, Longest: 1999.9},
			"Carried sideways it passes the door, up to a length of 1999.5 mm."},
		{corridor, passage.Verdict{Passes: true, Hold: passage.Flat, Longest: 2100, EndUp: 2600},
			"Carried flat it passes the turn of the corridor, up to a length of 2100 mm."},
		{corridor, passage.Verdict{Longest: 2100, EndUp: 2600},
			"It does not pass the turn of the corridor: at this depth and thickness at most 2100 mm passes, with one end raised 2600 mm."},
		{corridor, passage.Verdict{Longest: 2100, EndUp: passage.Unlimited},
			"It does not pass the turn of the corridor: at this depth and thickness at most 2100 mm passes, with one end raised any length."},
		{corridor, passage.Verdict{Longest: 2100, EndUp: 2100},
			"It does not pass the turn of the corridor: at this depth and thickness at most 2100 mm passes."},
		{corridor, passage.Verdict{EndUp: 800},
			"It does not pass the turn of the corridor: at this depth and thickness at most 0 mm passes, with one end raised 800 mm."},
		{lift, passage.Verdict{}, "It does not pass the lift, however short: depth and thickness are too large for it."},
		{lift, passage.Verdict{Passes: true, Hold: passage.EndUp, Longest: 2600, Straight: 2600},
			"With one end raised it passes the lift, up to a length of 2600 mm."},
		{lift, passage.Verdict{Passes: true, Hold: passage.Tilted, Longest: 2600, Straight: 2300},
			"Tilted about its length it passes the lift, up to a length of 2600 mm; longer than 2300 mm it must be turned up on its way through the door."},
	} {
		require.Equal(t, c.want, passage.How(&c.step, &c.v, measure.Millimetres))
	}
}

// A car that is laid on its side holds the same pieces: which of its axes is called the width does not matter.
func TestACarHoldsAsMuchLaidOnItsSide(t *testing.T) {
	t.Parallel()
	for _, size := range [][3]measure.Length{{900, 1400, 2200}, {600, 2000, 2100}, {1200, 1250, 2300}} {
		for _, p := range []passage.Piece{{Length: 1, Depth: 650, Thickness: 40}, {Length: 1, Depth: 1000, Thickness: 60},
			{Length: 1, Depth: 1150, Thickness: 500}, {Length: 1, Depth: 300, Thickness: 250}, {Length: 1, Depth: 1500, Thickness: 30}} {
			said := map[int]measure.Length{}
			for i, axes := range [][3]int{{0, 1, 2}, {0, 2, 1}, {1, 0, 2}, {1, 2, 0}, {2, 0, 1}, {2, 1, 0}} {
				step := passage.Step{Kind: passage.Lift, Width: size[axes[0]], Depth: size[axes[1]], Height: size[axes[2]],
					DoorWidth: 1e5, DoorHeight: 1e5} // no matter
				said[i] = verdict(p, step).Longest
				require.InDelta(t, float64(said[0]), float64(said[i]), 1e-6, "%v in %v, %v", p, size, axes)
			}
		}
	}
}
