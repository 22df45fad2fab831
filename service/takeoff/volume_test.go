package takeoff

import (
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/catalogue"
	"seamwright/service/measure"
	"seamwright/service/publishedtest"
)

const mm = measure.Millimetre

// metric is a catalogue of one wood sold by the cubic metre, edged and unedged; prices are invented.
func metric(t testing.TB, edged, unedged string) *catalogue.Snapshot {
	cat := yard(t)
	lumber := func(code, m3 string, measured measure.Length) catalogue.Material {
		return catalogue.Material{Code: code, Name: code, Kind: catalogue.LumberKind, Unit: catalogue.CubicMetre,
			Packs: []catalogue.Pack{{Size: quantity(t, "1"), Prices: []catalogue.Price{{Supplier: "demo",
				ValidFrom: "2026-01-01", Amount: price(t, m3)}}}},
			Lumber: &catalogue.Lumber{Species: "oak_european", RoughThickness: 52 * mm, SurfacedThickness: 46 * mm,
				Grade: "A", ClearYield: 10.0 / 12, StockLengths: []measure.Length{2000 * mm, 3000 * mm, 4000 * mm},
				WorkingWidth: 240 * mm, MeasuredWidth: measured}}
	}
	return (&catalogue.Snapshot{Settings: cat.Settings, Materials: []catalogue.Material{
		lumber("oak_52", edged, 0), lumber("oak_52_unedged", unedged, 320*mm)}}).Index()
}

// A board of 4 m, 52 mm thick and measured 320 mm wide is 0.0666 m³ (0.06656), at 3000 a cubic metre 199.80; edged to
// 240 mm it would be 0.0499.
func TestBoardsByTheCubicMetreWorkedByHand(t *testing.T) {
	cat := metric(t, "9000.00", "3000.00")
	s, err := PickLumber(cat, "oak_european", catalogue.FlatSawn, 40*mm, "2026-02-01", measure.Millimetres)
	require.NoError(t, err)
	require.Equal(t, "oak_52_unedged", s.Material.Code)
	b := BlankOf(1800*mm, 620*mm, 40*mm, &cat.Settings)
	w, line, err := s.Cut([]Slab{{Run: "A", Blank: &b}}, &cat.Settings, ByPack)
	require.NoError(t, err)
	// 7 staves of 100.0 mm as ripped and 1902 mm long on 52 mm: 0.0692 m³ net; over 10/12 and 240/320: 0.1107
	net := float64(b.Staves) * float64(b.StaveRip) * float64(b.StaveLength) * 52 / 1e9
	amount, places := w.InUnit(w.NetBoardFeet)
	require.Equal(t, 3, places)
	require.InDelta(t, net, amount, 1e-9)
	require.InDelta(t, net*1.2/0.75, line.Need.Float(), 0.00005+1e-9)
	require.Equal(t, catalogue.CubicMetre, line.Unit)
	bought := 0.0
	for _, board := range w.Boards {
		content := quantity(t, map[measure.Length]string{2000 * mm: "0.0333", 3000 * mm: "0.0499",
			4000 * mm: "0.0666"}[board.Length])
		bought += content.Float() * float64(board.Buy)
	}
	require.InDelta(t, bought, line.Buy.Float(), 1e-9)
	require.GreaterOrEqual(t, line.Buy.Cmp(line.Need), 0)
	require.InDelta(t, 3000*bought, line.Amount.Float(), 0.005)
	require.InDelta(t, 320, w.MeasuredWidth.Millimetres(), 1e-9)
	require.InDelta(t, 240, w.BoardWidth.Millimetres(), 1e-9)
}

// A cubic metre is 423.776 board feet (NIST Handbook 44, Appendix C: 144 in³ each).
func TestACubicMetreIsSoManyBoardFeet(t *testing.T) {
	require.InDelta(t, 423.776, saleOf(catalogue.CubicMetre).feet, 0.0005)
}

// Edged and unedged boards of one thickness are compared by what is left of them: 4000 edged is dearer than 2990
// unedged, of which three quarters are left (3987), and cheaper than 3010 (4013).
func TestUnedgedBoardsAreTakenWhereTheyAreCheaperInTheEnd(t *testing.T) {
	for unedged, want := range map[string]string{"2990.00": "oak_52_unedged", "3010.00": "oak_52"} {
		s, err := PickLumber(metric(t, "4000.00", unedged), "oak_european", catalogue.FlatSawn, 40*mm, "2026-02-01",
			measure.Millimetres)
		require.NoError(t, err)
		require.Equal(t, want, s.Material.Code, unedged)
	}
}

// The allowance of a published table: 60 % beyond the net of waney-edged boards, 15 to 20 % of square-edged ones.
func TestTheYieldOfUnedgedBoardsIsThePublishedAllowance(t *testing.T) {
	allowed := map[string]publishedtest.Row{}
	for _, r := range publishedtest.Read(t, "conversion_allowances.csv", 2) {
		allowed[r["stock"]] = r
	}
	for stock, m3 := range map[string][2]string{"unedged_hardwood": {"9000.00", "3000.00"},
		"edged_hardwood": {"3000.00", "9000.00"}} {
		cat := metric(t, m3[0], m3[1])
		s, err := PickLumber(cat, "oak_european", catalogue.FlatSawn, 40*mm, "2026-02-01", measure.Millimetres)
		require.NoError(t, err)
		b := BlankOf(2400*mm, 620*mm, 40*mm, &cat.Settings)
		w, _, err := s.Cut([]Slab{{Run: "A", Blank: &b}}, &cat.Settings, ByPack)
		require.NoError(t, err)
		more := 100 * (w.YieldBoardFeet/w.NetBoardFeet - 1)
		require.GreaterOrEqual(t, more, allowed[stock].Float(t, "low")-1e-9, stock)
		require.LessOrEqual(t, more, allowed[stock].Float(t, "high")+1e-9, stock)
	}
}

// Metric lumber that is too thin is named in millimetres, not in quarters of an inch.
func TestARefusalNamesMetricThicknesses(t *testing.T) {
	_, err := PickLumber(metric(t, "1", "1"), "oak_european", catalogue.FlatSawn, 60*mm, "2026-02-01", measure.Millimetres)
	require.ErrorContains(t, err, "sold up to 52 mm, which surfaces to 46 mm")
}

// Panels are of whole staves unless finger-jointed ones are asked for, and there are any.
func TestPanelsOfJoinedStavesAreTakenWhenAskedFor(t *testing.T) {
	cat := yard(t)
	joined := *cat.Materials[len(cat.Materials)-1].Panel
	joined.Width, joined.FingerJointed = 26*in, true
	cat.Materials = append(cat.Materials, catalogue.Material{Code: "panel_joined", Name: "joined", Kind: catalogue.PanelKind,
		Unit: catalogue.Each, Packs: []catalogue.Pack{{Size: quantity(t, "1"), Prices: []catalogue.Price{{Supplier: "demo",
			ValidFrom: "2026-01-01", Amount: price(t, "200")}}}}, Panel: &joined})
	cat = cat.Index()
	pick := func(depth measure.Length, joined bool) string {
		p, err := PickPanels(cat, "ash_white", catalogue.FlatSawn, 1.5*in, depth, joined, "2026-02-01", measure.Inches)
		require.NoError(t, err)
		return p.Materials[0].Code
	}
	require.Equal(t, "panel_26_96", pick(25*in, false), "whole staves, though joined ones are cheaper")
	require.Equal(t, "panel_joined", pick(25*in, true))
	require.Equal(t, "panel_36_96", pick(30*in, true), "none is wide enough that is joined")
}
