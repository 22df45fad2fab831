package hardware_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/catalogue"
	"seamwright/service/fault"
	"seamwright/service/hardware"
	"seamwright/service/measure"
	"seamwright/service/plan"
)

func TestWishesThatNoMovingSeamCanHaveAreRefused(t *testing.T) {
	t.Parallel()
	tests := []struct {
		name    string
		wish    hardware.Wish
		seam    hardware.Seam
		pointer string
		says    string
	}{
		{"dowels to pull", hardware.Wish{Pull: catalogue.Dowel}, studioButt(), "/pull", "slips up to 0 in at its front end and 0.229 in at its wall end"},
		{"dowels to align", hardware.Wish{Alignment: catalogue.Dowel, HoldAt: hardware.HoldCentre}, studioButt(),
			"/alignment", "slips up to 0.114 in at its front end and 0.114 in at its wall end"},
		{"dowels in a seam that is held at its back", hardware.Wish{Alignment: catalogue.Dowel, HoldAt: hardware.HoldBack},
			hardware.Seam{Joint: plan.Butt, Length: 600, Thickness: 38, SlipRate: 0.4, Units: measure.Millimetres}, "/alignment", "slips up to 240 mm at its front end and 0 mm at its wall end"},
		{"dowels in a miter that does not slip", hardware.Wish{Alignment: catalogue.Dowel}, studioMiter(), "/alignment", "opens and closes with the seasons"},
		{"a biscuit to pull", hardware.Wish{Pull: catalogue.Biscuit}, studioButt(), "/pull", "biscuit does not pull"},
		{"a clip to align", hardware.Wish{Alignment: catalogue.SlottedClip}, studioButt(), "/alignment", "slotted_clip does not keep"},
		{"an unknown kind", hardware.Wish{Pull: "string"}, studioButt(), "/pull", "string does not pull"},
		{"an unknown place", hardware.Wish{HoldAt: "middle"}, studioButt(), "/hold_at", "held at middle"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			_, err := hardware.Choose(tt.seam, tt.wish, fullShop(t))
			faults := fault.All(err)
			require.Len(t, faults, 1)
			require.Equal(t, fault.Impossible, faults[0].Kind)
			require.Equal(t, tt.pointer, faults[0].Pointer)
			require.Contains(t, faults[0].Detail, tt.says)
			require.NotEmpty(t, faults[0].Fix)
		})
	}
}

func TestEveryRefusedWishIsReportedAtOnce(t *testing.T) {
	t.Parallel()
	_, err := hardware.Choose(studioButt(), hardware.Wish{HoldAt: "x", Pull: "y", Alignment: "z"}, fullShop(t))
	require.Len(t, fault.All(err), 3)
}
