package hardware_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/catalogue"
	"seamwright/service/hardware"
	"seamwright/service/measure"
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

func TestTheNoteSaysWhatTheSeamMayHoldAndHowToCarryIt(t *testing.T) {
	t.Parallel()
	seam := studioButt()
	p := choose(t, seam, hardware.Wish{}, fullShop(t))
	require.Equal(t, 2, p.Pull.People)
	require.Equal(t, "Screws bite side grain. The lighter leg (58.4 lb), carried without support, would pull the seam with about 1811 lbf, "+
		"but its hardware may hold only 1225 lbf. Never lift the joined top by one leg: carry that leg with 2 people, the other leg as well, "+
		"with hands or a board under the seam, and set the top down on supports at both sides of the seam. An indication only: local codes and a licensed engineer decide.", p.Pull.Note)

	seam.Units, seam.LegMass, seam.LegArm = measure.Millimetres, 12, 500
	p = choose(t, seam, hardware.Wish{Pull: catalogue.DrawBolt}, fullShop(t))
	require.Contains(t, p.Pull.Note, "Draw bolts hold by")
	require.Contains(t, p.Pull.Note, "The lighter leg (12 kg), carried without support, would pull the seam with about 3089 N; its hardware may hold 3600 N. Still carry that leg with 1 person")

	seam.GravityOvenDry, seam.Gravity12 = 0, 0
	p = choose(t, seam, hardware.Wish{}, fullShop(t))
	require.Equal(t, catalogue.PocketScrew, p.Pull.Groups[0].Kind)
	require.Zero(t, p.Pull.Capacity)
	require.Contains(t, p.Pull.Note, "no specific gravity of this wood is known")
}

// A plan made over for another leg is the plan that the seam with that leg would get.
func TestAPlanForAnotherLegIsThatSeamsPlan(t *testing.T) {
	t.Parallel()
	cat := fullShop(t)
	for _, seam := range []hardware.Seam{studioButt(), studioMiter()} {
		other := seam
		other.LegMass, other.LegArm = 41, 700
		require.True(t, seam.SameButLeg(&other))
		want := choose(t, other, hardware.Wish{}, cat)
		got := hardware.NewChooser(cat).ForLeg(choose(t, seam, hardware.Wish{}, cat), other)
		require.Equal(t, want, got)
		other.SlipRate += 0.001
		require.False(t, seam.SameButLeg(&other))
	}
}
