package hardware_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/catalogue"
	"seamwright/service/hardware"
	"seamwright/service/measure"
	"seamwright/service/plan"
)

func TestALegCarriedByItselfPullsTheSeamOpen(t *testing.T) {
	t.Parallel()
	// 10 kg at 1 m on a lever of 20 mm: 98.0665 N · 50.
	require.InDelta(t, 4903.325, float64(hardware.MomentForce(10, measure.Metre, 40)), 1e-9)
	require.Zero(t, hardware.MomentForce(10, measure.Metre, 0))
}

func TestPeopleCarryNoMoreThanTheirLimit(t *testing.T) {
	t.Parallel()
	for mass, want := range map[measure.Mass]int{0: 1, 22.9: 1, 23: 1, 23.1: 2, 46: 2, 70: 4} {
		require.Equal(t, want, hardware.People(mass, 23), "%v kg", mass)
	}
}

func TestTheNoteSaysWhatTheSeamMayHoldAndHowToCarryEachLeg(t *testing.T) {
	t.Parallel()
	seam := studioButt()
	p := choose(t, seam, hardware.Wish{}, fullShop(t))
	// 58.4 lb · 23.25 in / 0.75 in = 1811 lbf, 40.8 kg · 36 in / 0.75 in = 4318 lbf; 23 kg are 50.7 lb.
	require.Equal(t, [2]hardware.Carried{
		{Leg: seam.Legs[0], MomentForce: hardware.MomentForce(40.8, 36*measure.Inch, 1.5*measure.Inch), People: 2},
		{Leg: seam.Legs[1], MomentForce: hardware.MomentForce(26.5, 23.25*measure.Inch, 1.5*measure.Inch), People: 2}},
		p.Pull.Legs)
	require.Equal(t, p.Pull.Legs[0].MomentForce, p.Pull.MomentForce)
	require.Equal(t, 2, p.Pull.People)
	require.True(t, p.Pull.Overloaded())
	require.Equal(t, "Screws bite side grain. Carried without support, run A (89.9 lb) would pull the seam with about 4318 lbf and run B (58.4 lb) with about 1811 lbf; "+
		"its hardware may hold 1225 lbf, too little for either. Never lift the joined top by one leg: carry run A with 2 people and run B with 2 people, "+
		"hands or a board under the seam, and set the top down on supports at both sides of it. Counted at most 50.7 lb each, gripped well and close to the body: "+
		"stairs, turns and reaching ask for more. An indication only: local codes and a licensed engineer decide.",
		p.Pull.Note)

	seam.Units, seam.Legs[0], seam.Legs[1] = measure.Millimetres, hardware.Leg{Run: "bar", Mass: 60, Arm: 700},
		hardware.Leg{Run: "end", Mass: 12, Arm: 500}
	p = choose(t, seam, hardware.Wish{Pull: catalogue.DrawBolt}, fullShop(t))
	require.Equal(t, 3, p.Pull.People, "the heavier leg's, although the lighter needs one")
	require.Contains(t, p.Pull.Note, "Draw bolts hold by")
	require.Contains(t, p.Pull.Note,
		"run end (12 kg) with about 3089 N; its hardware may hold 3600 N, too little for run bar. Never lift the joined top by run end alone: carry run bar with 3 people and run end with 1 person,")

	seam.Legs[0], seam.Legs[1] = seam.Legs[1], seam.Legs[0]
	require.Contains(t, choose(t, seam, hardware.Wish{Pull: catalogue.DrawBolt}, fullShop(t)).Pull.Note,
		"too little for run bar. Never lift the joined top by run end alone")

	seam.Legs[1].Arm, seam.Legs[1].Mass = 500, 13
	p = choose(t, seam, hardware.Wish{Pull: catalogue.DrawBolt}, fullShop(t))
	require.False(t, p.Pull.Overloaded())
	require.Contains(t, p.Pull.Note,
		"its hardware may hold 3600 N. Still carry run end with 1 person and run bar with 1 person")

	seam.GravityOvenDry, seam.Gravity12 = 0, 0
	p = choose(t, seam, hardware.Wish{}, fullShop(t))
	require.Equal(t, catalogue.PocketScrew, p.Pull.Groups[0].Kind)
	require.Zero(t, p.Pull.Capacity)
	require.True(t, p.Pull.Overloaded(), "what does not count holds nothing, however light the leg")
	require.Contains(t, p.Pull.Note, "no specific gravity of this wood is known")
}

// A plan made over for other legs is the plan that the seam with those legs would get.
func TestAPlanForOtherLegsIsThatSeamsPlan(t *testing.T) {
	t.Parallel()
	cat := fullShop(t)
	for _, seam := range []hardware.Seam{studioButt(), studioMiter()} {
		other := seam
		other.Legs[1] = hardware.Leg{Run: "C", Mass: 41, Arm: 700}
		require.True(t, seam.SameButLegs(&other))
		want := choose(t, other, hardware.Wish{}, cat)
		chooser := hardware.NewChooser(cat)
		got := chooser.ForLegs(choose(t, seam, hardware.Wish{}, cat), other)
		require.Empty(t, got.Pull.Note, "that of the other legs")
		addNote(chooser, &got, &other)
		require.Equal(t, want, got)
		other.SlipRate += 0.001
		require.False(t, seam.SameButLegs(&other))
	}
}

// What was chosen for one seam is that of another only if all is the same that parts are chosen, placed or told by: anything else
// that differs makes another seam of it.
func TestWhatMakesAnotherSeam(t *testing.T) {
	t.Parallel()
	for name, change := range map[string]func(*hardware.Seam){
		"joint": func(s *hardware.Seam) { s.Joint = plan.MasonsMiter }, "length": func(s *hardware.Seam) { s.Length++ },
		"thickness": func(s *hardware.Seam) { s.Thickness++ }, "profile": func(s *hardware.Seam) { s.FrontKeep++ },
		"slip": func(s *hardware.Seam) { s.SlipRate += 1e-4 }, "units": func(s *hardware.Seam) { s.Units = measure.Millimetres },
		"dry gravity": func(s *hardware.Seam) { s.GravityOvenDry += 0.01 }, "gravity": func(s *hardware.Seam) { s.Gravity12 += 0.01 },
		"blocked": func(s *hardware.Seam) { s.Blocked = []hardware.Interval{{From: 100, To: 110}} },
		"first":   func(s *hardware.Seam) { s.Sides[0] = pieceEdges(s.Length, 600, 90, 90) },
		"second":  func(s *hardware.Seam) { s.Sides[1] = pieceEdges(s.Length, 600, 90, 90) },
	} {
		seam, other := studioButt(), studioButt()
		change(&other)
		require.False(t, seam.SameButLegs(&other), name)
	}
}

// Legs that weigh nothing pull nothing open.
func TestWhatWeighsNothingPullsNothing(t *testing.T) {
	t.Parallel()
	seam := studioMiter()
	seam.Legs = [2]hardware.Leg{{Run: "A", Arm: 500}, {Run: "B", Arm: 500}}
	require.Zero(t, choose(t, seam, hardware.Wish{}, fullShop(t)).Pull.MomentForce)
}
