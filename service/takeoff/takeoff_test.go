package takeoff

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/service/catalogue"
	"seamwright/service/fault"
	"seamwright/service/measure"
	"seamwright/service/money"
	"seamwright/service/publishedtest"
)

const in = measure.Inch

func price(t testing.TB, s string) money.UnitPrice {
	p, err := money.ParseUnitPrice(s)
	require.NoError(t, err)
	return p
}

func quantity(t testing.TB, s string) money.Quantity {
	q, err := money.ParseQuantity(s)
	require.NoError(t, err)
	return q
}

// yard is a small catalogue of invented prices.
func yard(t testing.TB) *catalogue.Snapshot {
	settings, err := catalogue.DefaultSettings()
	require.NoError(t, err)
	pack := func(size, amount, from string) catalogue.Pack {
		return catalogue.Pack{Size: quantity(t, size),
			Prices: []catalogue.Price{{Supplier: "demo", ValidFrom: catalogue.Date(from), Amount: price(t, amount)}}}
	}
	lumber := func(code string, rough, surfaced measure.Length, grade string, yield measure.Fraction,
		bf string) catalogue.Material {
		return catalogue.Material{Code: code, Name: code, Kind: catalogue.LumberKind, Unit: catalogue.BoardFoot,
			Packs: []catalogue.Pack{pack("1", bf, "2026-01-01")},
			Lumber: &catalogue.Lumber{Species: "ash_white", RoughThickness: rough, SurfacedThickness: surfaced, Grade: grade,
				ClearYield:   yield,
				StockLengths: []measure.Length{96 * in, 120 * in, 144 * in}, WorkingWidth: 9 * in}}
	}
	panel := func(code string, width, length measure.Length, amount string) catalogue.Material {
		return catalogue.Material{Code: code, Name: code, Kind: catalogue.PanelKind, Unit: catalogue.Each,
			Packs: []catalogue.Pack{pack("1", amount, "2026-01-01")},
			Panel: &catalogue.Panel{Species: "ash_white", Thickness: 1.5 * in, Width: width, Length: length}}
	}
	cat := &catalogue.Snapshot{Settings: settings, Materials: []catalogue.Material{
		lumber("ash_4_4", 1*in, 13.0/16*in, "FAS", 10.0/12, "4.00"),
		lumber("ash_8_4", 2*in, 1.75*in, "FAS", 10.0/12, "6.00"),
		lumber("ash_8_4_common", 2*in, 1.75*in, "No. 1 Common", 8.0/12, "4.50"),
		panel("panel_26_96", 26*in, 96*in, "300.00"), panel("panel_26_144", 26*in, 144*in, "430.00"),
		panel("panel_36_96", 36*in, 96*in, "400.00")}}
	return cat.Index()
}

// Board feet: NIST Handbook 44 (144 in³). The examples were found in sources that do not name themselves well enough to
// count as read.
func TestBoardFeet(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ thick, wide, long, want float64 }{{1, 9, 96, 6}, {1.5, 9, 96, 9}, {1, 3, 96, 2},
		{3, 8, 120, 20}} {
		require.InDelta(t, c.want, BoardFeet(measure.Length(c.thick)*in, measure.Length(c.wide)*in,
			measure.Length(c.long)*in), 1e-9)
	}
}

func TestBlanksAndStavesOfTheDeskWorkedByHand(t *testing.T) {
	t.Parallel()
	cat := yard(t)
	b := BlankOf(96*in, 25.5*in, 1.5*in, &cat.Settings)
	require.InDelta(t, 98, b.Length.Inches(), 1e-9)
	require.InDelta(t, 26, b.Width.Inches(), 1e-9)
	b.glueUp(cat.MaterialByCode("ash_8_4").Lumber, 9*in, &cat.Settings)
	require.Equal(t, 7, b.Staves)
	require.InDelta(t, 26.0/7, b.StaveWidth.Inches(), 1e-9, "equal staves fill the blank: 3.714 in, not 7 of 4 in")
	require.InDelta(t, 26.0/7+0.375, b.StaveRip.Inches(), 1e-9)
	require.InDelta(t, 100, b.StaveLength.Inches(), 1e-9)
	require.InDelta(t, 39.76, b.BoardFeet, 0.005, "7 × 2 × 4.0893 × 100 / 144")
	require.InDelta(t, 6*98*(1.5+1.0/16)/144, b.GlueArea(&cat.Settings).SquareFeet(), 1e-9,
		"six joints of the planed thickness, not of the rough 2 in")
}

// Whatever the blank's width: equal staves, none wider than the shop's, as few as that allows, and together the blank.
func TestStavesFillTheBlank(t *testing.T) {
	t.Parallel()
	cat := yard(t)
	lumber := cat.MaterialByCode("ash_8_4").Lumber
	rapid.Check(t, func(t *rapid.T) {
		b := BlankOf(1000, measure.Length(rapid.Float64Range(50, 3000).Draw(t, "depth")), 1.5*in, &cat.Settings)
		b.glueUp(lumber, measure.Length(rapid.Float64Range(2, 12).Draw(t, "board"))*in, &cat.Settings)
		require.InDelta(t, float64(b.Width), float64(b.StaveWidth)*float64(b.Staves), 1e-6)
		require.LessOrEqual(t, float64(b.StaveWidth), float64(cat.Settings.StaveWidth)+1e-6)
		require.InDelta(t, float64(b.StaveWidth+cat.Settings.StaveRip), float64(b.StaveRip), 1e-9)
	})
}

// Quarter- and rift-sawn boards cost more and come narrower, by the shop's settings; flat-sawn and mixed ones are the
// catalogue's.
func TestSawingHasItsPriceAndWidth(t *testing.T) {
	t.Parallel()
	cat := yard(t)
	cost := map[catalogue.Sawn]money.Amount{}
	for _, c := range []struct {
		sawn  catalogue.Sawn
		price string
		width float64
		name  string
	}{{catalogue.FlatSawn, "4.5000", 9, "ash_8_4_common"}, {catalogue.MixedSawn, "4.5000", 9, "ash_8_4_common"},
		{catalogue.QuarterSawn, "6.3000", 5.4, "ash_8_4_common, quarter-sawn"},
		{catalogue.RiftSawn, "6.9750", 5.4, "ash_8_4_common, rift-sawn"}} {
		s, err := PickLumber(cat, "ash_white", c.sawn, 1.5*in, "2026-06-01", measure.Inches)
		require.NoError(t, err)
		require.Equal(t, c.price, s.Price.Amount.String())
		require.InDelta(t, c.width, s.width.Inches(), 1e-9)
		b := BlankOf(96*in, 25.5*in, 1.5*in, &cat.Settings)
		_, line, err := s.Cut([]Slab{{"A", &b}}, &cat.Settings, ByPack)
		require.NoError(t, err)
		require.Equal(t, c.name, line.Description)
		require.Equal(t, line.UnitPrice.Times(line.Buy).Round(2), line.Amount)
		cost[c.sawn] = line.Amount
	}
	require.Equal(t, cost[catalogue.FlatSawn], cost[catalogue.MixedSawn])
	require.Positive(t, cost[catalogue.QuarterSawn].Cmp(cost[catalogue.FlatSawn]))
	panels, err := PickPanels(cat, "ash_white", catalogue.QuarterSawn, 1.5*in, 25.5*in, false, "2026-06-01", measure.Inches)
	require.NoError(t, err)
	require.Equal(t, "420.0000", panels.prices[0].Amount.String(), "300.00 and 40 %")
}

// Narrow boards make narrower staves, and more of them.
func TestNarrowBoardsMakeNarrowStaves(t *testing.T) {
	t.Parallel()
	cat := yard(t)
	lumber := *cat.MaterialByCode("ash_8_4").Lumber
	lumber.WorkingWidth = 3 * in
	b := BlankOf(96*in, 25.5*in, 1.5*in, &cat.Settings)
	b.glueUp(&lumber, lumber.WorkingWidth, &cat.Settings)
	require.Equal(t, 10, b.Staves, "26 in over 2-5/8 in")
	require.InDelta(t, 2.6, b.StaveWidth.Inches(), 1e-9)
	require.Equal(t, 1, StripsPerBoard(lumber.WorkingWidth, b.StaveRip, cat.Settings.Kerf))
}

// ⌊(w + kerf)/(stave + kerf)⌋: two strips of 4-3/8 in and one kerf of 1/8 in just fit 8-7/8 in.
func TestStripsPerBoard(t *testing.T) {
	t.Parallel()
	require.Equal(t, 2, StripsPerBoard(8.875*in, 4.375*in, 0.125*in))
	require.Equal(t, 1, StripsPerBoard(8.874*in, 4.375*in, 0.125*in))
	require.Equal(t, 0, StripsPerBoard(4*in, 4.375*in, 0.125*in))
}

// The least standard thickness whose surfaced size leaves 1/16 in: 1-1/2 in needs 8/4, which surfaces to 1-3/4 in. Of
// two grades the one that is cheaper by the clear board foot.
func TestPickLumber(t *testing.T) {
	t.Parallel()
	cat := yard(t)
	thin, err := PickLumber(cat, "ash_white", catalogue.FlatSawn, 0.75*in, "2026-06-01", measure.Inches)
	require.NoError(t, err)
	require.Equal(t, "ash_4_4", thin.Material.Code, "13/16 in leaves just 1/16 in")
	thick, err := PickLumber(cat, "ash_white", catalogue.FlatSawn, 1.5*in, "2026-06-01", measure.Inches)
	require.NoError(t, err)
	require.Equal(t, "ash_8_4_common", thick.Material.Code, "4.50 over 2/3 is under 6.00 over 5/6")
	cat.MaterialByCode("ash_8_4_common").Packs[0].Prices[0].Amount = price(t, "5.00")
	thick, err = PickLumber(cat, "ash_white", catalogue.FlatSawn, 1.5*in, "2026-06-01", measure.Inches)
	require.NoError(t, err)
	require.Equal(t, "ash_8_4", thick.Material.Code, "5.00 over 2/3 is not, though 2/3 of it is under 5/6 of 6.00")
	cat.MaterialByCode("ash_8_4_common").Packs[0].Prices[0].Amount = price(t, "0.50")
	thin, err = PickLumber(cat, "ash_white", catalogue.FlatSawn, 0.75*in, "2026-06-01", measure.Inches)
	require.NoError(t, err)
	require.Equal(t, "ash_4_4", thin.Material.Code, "thicker lumber is planed away, however cheap")
	for _, c := range []struct {
		species   string
		thickness measure.Length
		day       catalogue.Date
		pointer   string
	}{{"oak_red", 1 * in, "2026-06-01", "/species"}, {"ash_white", 2 * in, "2026-06-01", "/thickness"},
		{"ash_white", 1 * in, "2025-06-01", "/pricing/as_of"}} {
		_, err := PickLumber(cat, c.species, catalogue.FlatSawn, c.thickness, c.day, measure.Inches)
		require.Equal(t, c.pointer, fault.All(err)[0].Pointer)
		require.Equal(t, fault.Impossible, fault.All(err)[0].Kind)
	}
}

// Surfaced sizes: Wood Handbook Table 6-3, remembered and marked so; the rule, not the table, is what is checked: each
// standard thickness is the least for a top that leaves 1/16 in of it.
func TestEachStandardThicknessIsTheLeastForItsSurfacedSize(t *testing.T) {
	t.Parallel()
	cat := yard(t)
	cat.Materials = nil
	rows := publishedtest.Read(t, "wood_handbook_6_3.csv", 10)
	var sizes []struct{ rough, surfaced measure.Length }
	for _, r := range rows {
		if r["s2s_in_decimal"] == "" {
			continue
		}
		s := struct{ rough, surfaced measure.Length }{measure.Length(r.Float(t, "rough_in_decimal")) * in,
			measure.Length(r.Float(t, "s2s_in_decimal")) * in}
		sizes = append(sizes, s)
		cat.Materials = append(cat.Materials, catalogue.Material{Code: r["rough_in"], Unit: catalogue.BoardFoot,
			Packs: []catalogue.Pack{{Size: one, Prices: []catalogue.Price{{ValidFrom: "2026-01-01", Amount: price(t, "5")}}}},
			Lumber: &catalogue.Lumber{Species: "ash_white", RoughThickness: s.rough, SurfacedThickness: s.surfaced,
				ClearYield: 1, StockLengths: []measure.Length{96 * in}, WorkingWidth: 9 * in}})
	}
	cat.Index()
	for _, s := range sizes {
		got, err := PickLumber(cat, "ash_white", catalogue.FlatSawn, s.surfaced-in/16, "2026-06-01", measure.Inches)
		require.NoError(t, err)
		require.InDelta(t, s.rough.Inches(), got.Material.Lumber.RoughThickness.Inches(), 1e-9)
	}
}

// NHLA: FAS gives at least 10/12 clear; the purchase is the larger of the plan and net over yield, in whole boards.
func TestThePurchaseCoversPlanAndYield(t *testing.T) {
	t.Parallel()
	cat := yard(t)
	for name, stockCode := range map[string]string{"plan decides": "ash_8_4", "yield decides": "ash_8_4_common"} {
		t.Run(name, func(t *testing.T) {
			m := cat.MaterialByCode(stockCode)
			s := newStock(m, m.Packs[0].Prices[0], catalogue.FlatSawn, &cat.Settings)
			a, b := BlankOf(96*in, 25.5*in, 1.5*in, &cat.Settings), BlankOf(72*in, 25.5*in, 1.5*in, &cat.Settings)
			slabs := []Slab{{"A", &a}, {"B", &b}}
			w, line, err := s.Cut(slabs, &cat.Settings, ByPack)
			require.NoError(t, err)
			require.True(t, w.Optimal)
			require.InDelta(t, w.NetBoardFeet/float64(m.Lumber.ClearYield), w.YieldBoardFeet, 1e-9)
			require.GreaterOrEqual(t, w.BuyBoardFeet+0.005, w.YieldBoardFeet)
			require.GreaterOrEqual(t, w.BuyBoardFeet, w.PlanBoardFeet)
			pieces := map[string]int{}
			for _, strip := range w.Strips {
				for _, p := range strip.Pieces {
					pieces[p.Run] += strip.Count
				}
			}
			require.Equal(t, map[string]int{"A": 7, "B": 7}, pieces)
			amount, err := s.Cost(slabs, &cat.Settings, ByPack)
			require.NoError(t, err)
			require.Equal(t, line.Amount, amount, "the quick way costs the same")
			used, err := s.Cost(slabs, &cat.Settings, ByUse)
			require.NoError(t, err)
			require.Equal(t, m.Packs[0].Prices[0].Amount.Times(money.RoundQuantity(w.YieldBoardFeet, 2)).Round(2), used)
		})
	}
}

func TestAStaveLongerThanAnyBoardNamesTheRun(t *testing.T) {
	t.Parallel()
	cat := yard(t)
	s, err := PickLumber(cat, "ash_white", catalogue.FlatSawn, 1.5*in, "2026-06-01", measure.Inches)
	require.NoError(t, err)
	b := BlankOf(150*in, 25.5*in, 1.5*in, &cat.Settings)
	_, _, err = s.Cut([]Slab{{"long one", &b}}, &cat.Settings, ByPack)
	require.ErrorContains(t, err, "long one")
	require.ErrorContains(t, err, `12' 0"`)
}

func TestPanels(t *testing.T) {
	t.Parallel()
	cat := yard(t)
	s, err := PickPanels(cat, "ash_white", catalogue.FlatSawn, 1.5*in, 25.5*in, false, "2026-06-01", measure.Inches)
	require.NoError(t, err)
	require.InDelta(t, 26, s.Width.Inches(), 1e-9, "the narrowest that holds the depth")
	a, b := BlankOf(60*in, 25.5*in, 1.5*in, &cat.Settings), BlankOf(70*in, 25.5*in, 1.5*in, &cat.Settings)
	w, lines, err := s.Cut([]Slab{{"A", &a}, {"B", &b}}, &cat.Settings)
	require.NoError(t, err)
	require.Len(t, lines, 1, "both blanks fit one long panel, which is cheaper than two short ones")
	require.Equal(t, "panel_26_144", lines[0].Item)
	require.Equal(t, "430.00", w.Cost.String())
	require.Zero(t, a.Staves)

	for _, c := range []struct {
		thickness, depth measure.Length
		pointer          string
	}{{1 * in, 25 * in, "/thickness"}, {1.5 * in, 40 * in, "/depth"}} {
		_, err := PickPanels(cat, "ash_white", catalogue.FlatSawn, c.thickness, c.depth, false, "2026-06-01", measure.Inches)
		require.Equal(t, c.pointer, fault.All(err)[0].Pointer)
	}
}

func TestPacksAreBoughtCheapestAndUseIsChargedByTheUnit(t *testing.T) {
	t.Parallel()
	pack := func(size, amount string) catalogue.Pack {
		return catalogue.Pack{Size: quantity(t, size), Prices: []catalogue.Price{
			{Supplier: "demo", ValidFrom: "2026-01-01", Amount: price(t, amount)}, {Supplier: "demo", ValidFrom: "2026-09-01", Amount: price(t, "99")}}}
	}
	n := Need{Item: "glue", Kind: BillGlue, Unit: catalogue.Litre, Quantity: quantity(t, "1.2"),
		Packs: []catalogue.Pack{pack("0.5", "9.00"), pack("1", "14.00")}}
	lines, err := n.Buy("2026-06-01", ByPack, nil)
	require.NoError(t, err)
	require.Len(t, lines, 2)
	require.Equal(t, "9.00", lines[0].Amount.String())
	require.Equal(t, "14.00", lines[1].Amount.String())
	purse := NewPurse("2026-06-01", ByPack)
	for range 2 { // reckoned, then remembered
		amount, err := purse.Cost(&n)
		require.NoError(t, err)
		require.Equal(t, "23.00", amount.String())
	}
	remembered, err := purse.Buy(&n, nil)
	require.NoError(t, err)
	require.Equal(t, lines, remembered)
	lines, err = n.Buy("2026-06-01", ByUse, nil)
	require.NoError(t, err)
	require.Len(t, lines, 1)
	require.Equal(t, "16.80", lines[0].Amount.String(), "1.2 l at 14.00")
	n.Quantity = quantity(t, "0.0313")
	lines, err = n.Buy("2026-06-01", ByUse, nil)
	require.NoError(t, err)
	require.Equal(t, "0.44", lines[0].Amount.String(), "0.4382, to the cent")

	_, err = n.Buy("2025-06-01", ByPack, nil)
	require.ErrorContains(t, err, "2026-01-01", "says from when there is a price")
}

// A refusal calls a wood as people do, and by its code where the catalogue has no name for it.
func TestARefusalCallsTheWoodByItsName(t *testing.T) {
	t.Parallel()
	cat := (&catalogue.Snapshot{Species: []catalogue.Species{{Code: "ash_white", Name: "Ash, white"}}}).Index()
	for species, want := range map[string]string{"ash_white": "No lumber of Ash, white (ash_white) is",
		"ash_blue": "No lumber of ash_blue is"} {
		_, err := PickLumber(cat, species, catalogue.FlatSawn, in, "2026-06-01", measure.Inches)
		require.Contains(t, fault.All(err)[0].Detail, want)
	}
}
