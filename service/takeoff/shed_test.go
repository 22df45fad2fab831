package takeoff

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/service/catalogue"
	"seamwright/service/measure"
)

// Stocks that served other tops say what new ones do, and what they said before stays as it was.
func TestAStockFromTheShedSaysWhatANewOneDoes(t *testing.T) {
	t.Parallel()
	cats := []*catalogue.Snapshot{yard(t), yard(t)}
	solved := 0
	rapid.Check(t, func(t *rapid.T) {
		var shed Shed
		var said, wanted []WoodPlan
		for range rapid.IntRange(1, 6).Draw(t, "tops") {
			cat := rapid.SampledFrom(cats).Draw(t, "catalogue")
			shed.Reset(cat)
			sawn := rapid.SampledFrom([]catalogue.Sawn{catalogue.FlatSawn, catalogue.QuarterSawn}).Draw(t, "sawn")
			thickness := rapid.SampledFrom([]measure.Length{0.75 * in, 1.5 * in, 9 * in}).Draw(t, "thickness")
			day := rapid.SampledFrom([]catalogue.Date{"2026-06-01", "2020-01-01"}).Draw(t, "day")
			stock, err := shed.Lumber("ash_white", sawn, thickness, day, measure.Inches)
			_, wrong := PickLumber(cat, "ash_white", sawn, thickness, day, measure.Inches)
			require.Equal(t, wrong, err)
			if err != nil {
				continue
			}
			require.Empty(t, stock.solved, "of tops before")
			for range rapid.IntRange(1, 5).Draw(t, "candidates") {
				blanks := make([]Blank, rapid.IntRange(1, 3).Draw(t, "slabs"))
				slabs := make([]Slab, len(blanks))
				for i := range blanks {
					blanks[i] = BlankOf(measure.Length(rapid.IntRange(900, 4600).Draw(t, "length")),
						measure.Length(rapid.IntRange(200, 750).Draw(t, "depth")), thickness, &cat.Settings)
					slabs[i] = Slab{string(rune('A' + i)), &blanks[i]}
				}
				charge := rapid.SampledFrom([]string{ByPack, ByUse}).Draw(t, "charge")
				fresh := anew(t, &shed, stock, func() (*Stock, error) {
					return PickLumber(cat, "ash_white", sawn, thickness, day, measure.Inches)
				})
				want, line, wrong := fresh.Cut(slabs, &cat.Settings, charge)
				cost, err := stock.Cost(slabs, &cat.Settings, charge)
				require.Equal(t, wrong, err)
				got, again, err := stock.Cut(slabs, &cat.Settings, charge)
				require.Equal(t, wrong, err)
				require.Equal(t, line, again)
				if err == nil {
					solved++
					require.Equal(t, line.Amount, cost)
					said, wanted = append(said, got), append(wanted, want)
				}
			}
		}
		require.Equal(t, wanted, said)
	})
	require.Greater(t, solved, 50)
}

// anew is a stock without any memory but what the top at hand has bought, and may still take, with the used one: a purchase
// that may take less can come out as another plan of the same price.
func anew(t require.TestingT, shed *Shed, used *Stock, pick func() (*Stock, error)) *Stock {
	fresh, err := pick()
	require.NoError(t, err)
	left := shed.effort
	fresh.effort, fresh.solved = &left, slices.Clone(used.solved)
	return fresh
}

// Panels that were asked for other slabs before cost what they cost when cut.
func TestPanelsCostWhatTheirBillSays(t *testing.T) {
	t.Parallel()
	cat := yard(t)
	rapid.Check(t, func(t *rapid.T) {
		used, err := PickPanels(cat, "ash_white", catalogue.FlatSawn, 1.5*in, 25.5*in, false, "2026-06-01", measure.Inches)
		require.NoError(t, err)
		for range rapid.IntRange(1, 4).Draw(t, "candidates") {
			blanks := make([]Blank, rapid.IntRange(1, 4).Draw(t, "slabs"))
			slabs := make([]Slab, len(blanks))
			for i := range blanks {
				blanks[i] = BlankOf(measure.Length(rapid.IntRange(400, 3300).Draw(t, "length")), 25*in, 1.5*in, &cat.Settings)
				slabs[i] = Slab{string(rune('A' + i)), &blanks[i]}
			}
			fresh, err := PickPanels(cat, "ash_white", catalogue.FlatSawn, 1.5*in, 25.5*in, false, "2026-06-01", measure.Inches)
			require.NoError(t, err)
			want, lines, wrong := fresh.Cut(slabs, &cat.Settings)
			cost, err := used.Cost(slabs, &cat.Settings)
			require.Equal(t, wrong, err)
			got, again, err := used.Cut(slabs, &cat.Settings)
			require.Equal(t, wrong, err)
			require.Equal(t, lines, again)
			require.Equal(t, want, got)
			if err == nil {
				require.Equal(t, got.Cost, cost)
			}
		}
	})
}
