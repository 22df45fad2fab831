package estimate_test

import (
	"slices"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"seamwright/service/base"
	"seamwright/service/estimate"
	"seamwright/service/passage"
	"seamwright/service/plan"
	"seamwright/store/demotest"
)

// What an order pays that tells its walls, its way and its base, and asks for tolerances and lifts, beside one that tells none.
func BenchmarkSite(b *testing.B) {
	cat := demotest.Catalogue(b)
	for _, c := range siteOrders() {
		b.Run(c.name, func(b *testing.B) {
			b.ReportAllocs()
			maker := estimate.NewMaker(cat)
			before := processorTime(b)
			for b.Loop() {
				_, err := maker.Make(b.Context(), c.order)
				require.NoError(b, err)
			}
			b.ReportMetric(float64(processorTime(b)-before)/float64(time.Microsecond)/float64(b.N), "cpu-µs/op")
		})
	}
}

type siteOrder struct {
	name  string
	order estimate.Order
}

// siteOrders are a desk of which nothing is told of its site, the same with one thing more each, and with cut-outs on top of all.
func siteOrders() []siteOrder {
	all := carried(walled(deskA(), estimate.WallOrder{Run: "A", Edge: estimate.AtWall,
		Offsets: offsets(0, 0, 24*in, -6, 48*in, -9, 72*in, 0, 96*in, 1)}),
		passage.Step{Kind: passage.Door, Width: 30 * in, Height: 78 * in},
		passage.Step{Kind: passage.Turn, First: 34 * in, Second: 32 * in, Height: 90 * in},
		passage.Step{Kind: passage.Lift, Width: 51 * in, Depth: 55 * in, Height: 86 * in})
	based := all
	based.Base = []estimate.BaseOrder{{Run: "A", Kind: base.Cabinet, To: 36 * in, FromFront: far(6 * in)}, {Run: "A", Kind: base.Appliance, From: 36 * in, To: 60 * in},
		{Run: "A", Kind: base.Cabinet, From: 60 * in, To: 96 * in}, {Run: "B", Kind: base.Cabinet, From: 30 * in, To: 72 * in}}
	asked := based
	asked.Site.Tolerances, asked.Site.Lift = true, &estimate.LiftingOrder{}
	supplied := asked
	supplied.Base = append(slices.Clone(asked.Base), estimate.BaseOrder{Run: "A", Kind: base.Bracket, From: 10 * in, To: 12 * in,
		FromFront: far(2 * in), Depth: far(4 * in), Supply: true})
	supplied.Support.Unweighed = true
	weighed := supplied
	weighed.Support.Unweighed = false
	cut := weighed
	cut.Top.Cutouts = []estimate.Cutout{{Run: "A", Kind: "sink", Length: 18 * in, Depth: 14 * in, FromStart: far(14 * in), FromFront: 8 * in,
		Shape: plan.Rectangle, Mount: estimate.MountUnder},
		{Run: "B", Kind: "grommet", Length: 3 * in, Depth: 3 * in, FromEnd: far(12 * in), FromFront: 20 * in, Shape: plan.Oval}}
	return []siteOrder{{"none", deskA()}, {"walls_and_way", all}, {"and_base", based}, {"and_tolerances", asked}, {"and_brackets", supplied},
		{"and_alternatives", weighed}, {"all", cut}}
}

// processorTime is what the process has taken of its processors, so that what else runs on the machine counts little.
func processorTime(b *testing.B) time.Duration {
	var used syscall.Rusage
	require.NoError(b, syscall.Getrusage(syscall.RUSAGE_SELF, &used))
	return time.Duration(used.Utime.Nano() + used.Stime.Nano())
}
