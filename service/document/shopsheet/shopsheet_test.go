package shopsheet_test

import (
	"cmp"
	"html"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/base"
	"seamwright/service/catalogue"
	"seamwright/service/document"
	"seamwright/service/document/shopsheet"
	"seamwright/service/estimate"
	"seamwright/service/measure"
	"seamwright/service/money"
	"seamwright/service/takeoff"
	"seamwright/store/storetest/drawtest"
	"seamwright/store/storetest/goldentest"
)

// The sheets of a bar of two woods with a sink, and of a straight shelf from a panel, as pages with their drawings of boards and days;
// of a desk and a bar for which all is told that a sheet can say, the words alone.
func TestSheetsAsPages(t *testing.T) {
	t.Parallel()
	bar, shelf := drawtest.Bar(), drawtest.Desk()
	start := 20 * measure.Inch
	bar.Top.Cutouts = []estimate.Cutout{{Run: "A", Kind: "sink", Length: 400, Depth: 300, FromStart: &start,
		FromFront: 120}}
	shelf.Top.Runs, shelf.Top.Corners, shelf.Top.Construction = shelf.Top.Runs[:1], nil, estimate.Panel
	for name, in := range map[string]*shopsheet.Input{
		"bar":   {Paper: document.A4, Estimate: drawtest.Make(t, bar), Number: "2026-0012", Revision: 1, Date: "2026-11-03"},
		"shelf": {Paper: document.Letter, Estimate: drawtest.Make(t, shelf), Date: "2026-11-03"},
		"furnished": {Paper: document.Letter, Estimate: drawtest.Make(t, drawtest.Furnished()), Number: "2026-0013",
			Date: "2026-11-03"},
		"furnished_bar": {Paper: document.A4, Estimate: drawtest.Make(t, drawtest.FurnishedBar()), Date: "2026-11-03",
			Language: "de"},
	} {
		in.Language, in.Shop = cmp.Or(in.Language, "en"), document.Letterhead{Name: "Old Mill Workshop (invented)"}
		d, err := shopsheet.New(in)
		require.NoError(t, err)
		page, err := d.HTML()
		require.NoError(t, err)
		_, text, found := strings.Cut(string(page), "<body")
		require.True(t, found)
		if name != "shelf" { // the drawings of seams have files of their own
			text = regexp.MustCompile(`(?s)<svg .*?</svg>`).ReplaceAllString(text, "<svg/>")
		}
		got := d.Title + "\n" + d.Foot + "\n" + text
		file := "testdata/" + name + ".html"
		goldentest.Hold(t, file, got)
	}
}

// A straight top in one piece has no corner that is joined and no seam, and one of ready-made panels no glue: its sheet speaks of none.
func TestASheetSpeaksOnlyOfWhatItsTopHas(t *testing.T) {
	t.Parallel()
	seam, glue := regexp.MustCompile(`(?i).{0,50}(seam|mit(re|er)|(at|of|to) (the|every) corner).{0,50}`), regexp.MustCompile(`(?i).{0,50}\bglu(e|ing)\b.{0,50}`)
	for _, construction := range []estimate.Construction{estimate.EdgeGlued, estimate.Panel} {
		for _, edge := range []estimate.Profile{estimate.Eased, estimate.Roundover} {
			order := drawtest.Desk()
			order.Top.Runs, order.Top.Corners, order.Top.Construction, order.Top.Edge.Profile = order.Top.Runs[:1], nil, construction, edge
			d, err := shopsheet.New(&shopsheet.Input{Paper: document.A4, Estimate: drawtest.Make(t, order), Date: "2026-11-03", Language: "en"})
			require.NoError(t, err)
			raw, err := d.HTML()
			require.NoError(t, err)
			_, page, _ := strings.Cut(string(raw), "<body")
			page = html.UnescapeString(regexp.MustCompile(`<[^>]*>`).ReplaceAllString(page, " "))
			require.Contains(t, page, "Fixing to the base")
			require.Empty(t, seam.FindAllString(page, -1), "%s, %s", construction, edge)
			require.Equal(t, construction == estimate.EdgeGlued, glue.MatchString(page), "%v", glue.FindAllString(page, -1))
		}
	}
}

// The last caution does not stand alone at the head of a page.
func TestTheLastCautionsStayTogether(t *testing.T) {
	t.Parallel()
	e := drawtest.Make(t, drawtest.Desk())
	for _, n := range []int{1, 2, 3, len(e.Cautions)} {
		some := *e
		some.Cautions = e.Cautions[:n]
		d, err := shopsheet.New(&shopsheet.Input{Paper: document.A4, Estimate: &some, Date: "2026-11-03", Language: "en"})
		require.NoError(t, err)
		var said []string
		last := 0
		for _, b := range d.Blocks {
			switch b := b.(type) {
			case document.Text:
				if b.Tone == document.Caution && slices.Contains(e.Cautions, b.Text) {
					said = append(said, b.Text)
				}
			case document.Together:
				if c, ok := b.Blocks[0].(document.Text); ok && c.Text == some.Cautions[max(0, n-2)] {
					last = len(b.Blocks)
					for _, c := range b.Blocks {
						said = append(said, c.(document.Text).Text)
					}
				}
			}
		}
		require.Equal(t, min(n, 2), last)
		require.Equal(t, some.Cautions, append([]string{}, said...), "each once, in their order")
	}
}

// What is to get is said once, with all the packs that it comes in; what is only worn is not to be got, and what is sold in the other
// system's unit stands in the job's own as well.
func TestWhatIsToGetIsSaidOnce(t *testing.T) {
	t.Parallel()
	e := drawtest.Make(t, drawtest.Bar())
	quantity := func(text string) money.Quantity {
		q, err := money.ParseQuantity(text)
		require.NoError(t, err)
		return q
	}
	oil := takeoff.BillLine{Item: "oil", Description: "Oil for this test", Unit: catalogue.Litre, Need: quantity("1.149"), Packs: 1}
	small, large := oil, oil
	small.PackSize, large.PackSize = quantity("0.375"), quantity("1")
	e.Bill = []takeoff.BillLine{
		{Item: "boards", Description: "Boards for this test", Unit: catalogue.BoardFoot, Need: quantity("87.4"), Buy: quantity("94.5")},
		small, large,
		{Item: "bits", Description: "Wear for this test", Unit: catalogue.Each, Need: quantity("0.085"), Buy: quantity("0.085")},
		{Item: "blankets", Description: "Blankets for this test", Unit: catalogue.Each, Need: quantity("4"), Buy: quantity("4")},
	}
	d, err := shopsheet.New(&shopsheet.Input{Paper: document.A4, Estimate: e, Date: "2026-11-03", Language: "en"})
	require.NoError(t, err)
	raw, err := d.HTML()
	require.NoError(t, err)
	_, page, _ := strings.Cut(html.UnescapeString(string(raw)), "</figure>")
	require.Equal(t, 1, strings.Count(page, "Oil for this test"))
	require.Contains(t, page, ">1 × 0.375 l + 1 × 1 l<")
	require.NotContains(t, page, "Wear for this test")
	require.Contains(t, page, ">4<")
	require.Contains(t, page, ">0.207 m³<")
	require.Contains(t, page, ">94.5 board feet (0.223 m³)<")
}

// Whatever the answer tells of a top stands on its sheet, and each chapter only where there is something to say.
func TestASheetTellsAllThatIsKnown(t *testing.T) {
	t.Parallel()
	e := drawtest.Make(t, drawtest.Furnished())
	told := []string{e.Carrying.Text, e.Fixing.Note, "How tight the seams will be", "Walls as they are", "The way in", "Lifting",
		"What carries the top"}
	for i := range e.Carrying.Pieces {
		for _, step := range e.Carrying.Pieces[i].Way {
			told = append(told, e.Carrying.Pieces[i].Run+": "+step.How)
		}
	}
	told = append(append(told, e.LiftingTexts()...), e.Cautions...)
	for i := range e.Runs {
		told = append(told, e.Runs[i].WallJoint.Text)
		for k := range e.Runs[i].Walls {
			told = append(told, e.Runs[i].Walls[k].Text)
		}
	}
	for i := range e.Base.Props {
		told = append(told, e.Base.Props[i].Text)
	}
	for i := range e.Base.Seams {
		told = append(told, e.Base.Seams[i].Text)
	}
	for i := range e.Labour.Steps {
		told = append(told, e.Labour.Steps[i].Name, e.Labour.Steps[i].Note)
	}
	for i := range e.Sources {
		told = append(told, e.Sources[i].Title)
	}
	for i := range e.Warnings {
		if w := &e.Warnings[i]; w.Severity != estimate.Info {
			told = append(told, w.Text)
		}
	}
	told = append(told, e.Corners[0].Tolerances.Text)
	page := regexp.MustCompile(`(\d),(\d{3})\b`).ReplaceAllString(drawtest.Page(sheet(t, e)), "$1$2") // answers set no thousands apart
	for _, text := range told {
		require.Contains(t, page, text)
	}
	plain := sheet(t, drawtest.Make(t, drawtest.Desk()))
	for _, title := range told[2:7] {
		require.Contains(t, page, ">"+title+"<")
		require.NotContains(t, plain, ">"+title+"<")
	}
}

// sheet is the sheet of a top as a page, in English.
func sheet(t *testing.T, e *estimate.Estimate) string {
	t.Helper()
	d, err := shopsheet.New(&shopsheet.Input{Paper: document.A4, Estimate: e, Date: "2026-11-03", Language: "en"})
	require.NoError(t, err)
	raw, err := d.HTML()
	require.NoError(t, err)
	return html.UnescapeString(string(raw))
}

// A warning names the piece, the cut-out or the corner that it is about; of one of the whole top, or of a place that there is not,
// nothing stands before it.
func TestAWarningNamesItsPlace(t *testing.T) {
	t.Parallel()
	e := drawtest.Make(t, drawtest.Furnished())
	for pointer, place := range map[string]string{"/top/runs/1/length": "Piece B: ", "/top/cutouts/2": "Cut-out 3 in A: ",
		"/top/cutouts/3": "", "/top/runs/2": "", "/top/runs/-1": "", "/top/runs": "", "/top/runs/x": "", "/base/0": "", "": ""} {
		e.Warnings = []estimate.Warning{{Pointer: pointer, Severity: estimate.Caution, Text: "This is to be known."}}
		require.Contains(t, sheet(t, e), ">"+place+"This is to be known.<", pointer)
	}
	e.Warnings[0].Severity = estimate.Info
	require.NotContains(t, sheet(t, e), "This is to be known.")
}

// What comes from several shops says from which; the clamps' pressure stands in the maker's own unit.
func TestASheetSaysWhereToGetIt(t *testing.T) {
	t.Parallel()
	e := drawtest.Make(t, drawtest.Desk())
	page := sheet(t, e)
	require.NotContains(t, page, ">From<")
	require.Regexp(t, `\d+0 lbf/in² on the joints`, page)
	e.Bill[0].Supplier, e.Bill[1].Supplier = "Invented timber yard", "Invented fittings shop"
	page = sheet(t, e)
	require.Contains(t, page, ">From<")
	for _, supplier := range []string{e.Bill[0].Supplier, e.Bill[1].Supplier} {
		require.Equal(t, 1, strings.Count(page, ">"+supplier+"<"))
	}
}

// A seam without parts has no sections, and its sheet no picture of them.
func TestASeamWithoutPartsHasNoSections(t *testing.T) {
	t.Parallel()
	const title = "Across the seam"
	e := drawtest.Make(t, drawtest.Desk())
	require.Contains(t, sheet(t, e), title)
	e.Corners[0].ChosenCandidate().Hardware = estimate.Candidate{}.Hardware
	require.NotContains(t, sheet(t, e), title)
}

// Without an outline or a language there is no sheet; without wood to buy there is one without a cutting plan.
func TestASheetOfWhatHasLittle(t *testing.T) {
	t.Parallel()
	e := drawtest.Make(t, drawtest.Desk())
	e.Lumber = nil
	require.NotContains(t, sheet(t, e), "Cutting plan")
	_, err := shopsheet.New(&shopsheet.Input{Estimate: e, Language: "xx"})
	require.ErrorContains(t, err, "xx")
	e.Outline = nil
	_, err = shopsheet.New(&shopsheet.Input{Estimate: e, Language: "en"})
	require.ErrorContains(t, err, "no outline")
}

// Layers of a laminated slab are told with each piece; a strip for which no length holds has a dash.
func TestASheetSaysWhatTheSlabIsMadeOf(t *testing.T) {
	t.Parallel()
	o := drawtest.Desk()
	o.Top.Species, o.Top.Thickness, o.Top.Build = "oak_red", 3*measure.Inch, estimate.Laminated
	e := drawtest.Make(t, o)
	require.Equal(t, 2, e.Runs[0].Blank.Layers)
	require.Contains(t, sheet(t, e), "; 2 layers, each "+e.Runs[0].Blank.Layer.Text(e.Units))
	require.NotContains(t, sheet(t, drawtest.Make(t, drawtest.Desk())), "layers, each")

	e = drawtest.Make(t, drawtest.Furnished())
	require.NotContains(t, sheet(t, e), ">–<")
	e.Base.Runs[0].Strips[0].Greatest = 0
	require.Equal(t, 1, strings.Count(sheet(t, e), ">–<"))
}

// More of the same in other packs stands on one line; what differs in its code, words, unit, shop or need is another thing to get.
func TestOnlyTheSameIsGotTogether(t *testing.T) {
	t.Parallel()
	e := drawtest.Make(t, drawtest.Desk())
	one, err := money.ParseQuantity("1")
	require.NoError(t, err)
	two, err := money.ParseQuantity("2")
	require.NoError(t, err)
	line := takeoff.BillLine{Item: "oil", Description: "Oil for this test", Unit: catalogue.Litre, Need: two, Packs: 1, PackSize: one}
	for name, change := range map[string]func(l *takeoff.BillLine){
		"the same":    func(*takeoff.BillLine) {},
		"code":        func(l *takeoff.BillLine) { l.Item = "wax" },
		"description": func(l *takeoff.BillLine) { l.Description = "Wax for this test" },
		"unit":        func(l *takeoff.BillLine) { l.Unit = catalogue.Each },
		"shop":        func(l *takeoff.BillLine) { l.Supplier = "Invented shop" },
		"need":        func(l *takeoff.BillLine) { l.Need = one },
	} {
		next := line
		change(&next)
		e.Bill = []takeoff.BillLine{line, next}
		require.Equal(t, name != "the same", !strings.Contains(sheet(t, e), " + 1 × 1"), name)
	}
	line.Item = ""
	e.Bill = []takeoff.BillLine{line, line}
	require.NotContains(t, sheet(t, e), " + 1 × 1", "what has no code is nothing that can be told to be the same")
}

// The longest reference that there is stands whole in the foot; the way staves are turned is told as it was asked for.
func TestFootAndRingsOfASheet(t *testing.T) {
	t.Parallel()
	e := drawtest.Make(t, drawtest.Desk())
	for _, letters := range []int{44, 200} {
		e.Reference = strings.Repeat("x", letters)
		d, err := shopsheet.New(&shopsheet.Input{Paper: document.A4, Estimate: e, Date: "2026-11-03", Language: "en"})
		require.NoError(t, err)
		require.Contains(t, d.Foot, e.Reference)
	}
	says := map[estimate.Rings]string{estimate.RingsAlternate: "rings up and down by turns", estimate.RingsBarkUp: "all staves bark side up",
		estimate.RingsHeartUp: "all staves heart side up", estimate.RingsAny: ""}
	for rings := range says {
		for i := range e.Runs {
			e.Runs[i].GlueUp.Rings = rings
		}
		page := sheet(t, e)
		for other, text := range says {
			if text != "" {
				require.Equal(t, other == rings, strings.Contains(page, "; "+text) || strings.Contains(page, "; turn the staves' "+text), "%s: %s", rings, text)
			}
		}
	}
}

// Room for notes stands behind what to get, behind each piece and before the seams, if there are any, and behind each; no list is empty.
func TestNotesAndListsOfASheet(t *testing.T) {
	t.Parallel()
	straight := drawtest.Desk()
	straight.Top.Runs, straight.Top.Corners = straight.Top.Runs[:1], nil
	straight.Base = []estimate.BaseOrder{{Run: "A", Kind: base.Cabinet, From: 0, To: 96 * measure.Inch}}
	for notes, order := range map[int]estimate.Order{1 + 1: straight, 1 + 2 + 1 + 1: drawtest.Furnished()} {
		e := drawtest.Make(t, order)
		require.NotNil(t, e.Base)
		d, err := shopsheet.New(&shopsheet.Input{Paper: document.A4, Estimate: e, Date: "2026-11-03", Language: "en"})
		require.NoError(t, err)
		for _, b := range d.Blocks {
			switch b := b.(type) {
			case document.Notes:
				require.Equal(t, "Notes", b.Title)
				notes--
			case document.List:
				require.NotEmpty(t, b.Items)
			}
		}
		require.Zero(t, notes)
	}
}

// A slab of one joint is glued up as one of more; one without joints is not.
func TestJointsOfAGlueUp(t *testing.T) {
	t.Parallel()
	for joints, told := range map[int]bool{0: false, 1: true, 2: true} {
		e := drawtest.Make(t, drawtest.Desk())
		for i := range e.Runs {
			e.Runs[i].GlueUp.Joints = joints
		}
		require.Equal(t, told, strings.Contains(sheet(t, e), " on the joints"))
	}
}

// How far a fixing lets the wood go is said once for a row, across and along the run; in brackets where places of a row differ.
func TestPlayOfARowIsSaidOnce(t *testing.T) {
	t.Parallel()
	const across, along = 3 * measure.Inch / 32, measure.Inch / 16
	for _, c := range []struct {
		kind         estimate.FixingKind
		alongs       [2]measure.Length
		says, andNot string
	}{
		{estimate.FixClips, [2]measure.Length{0, 0}, "; play across the run 3/32<", "along it"},
		{estimate.FixClips, [2]measure.Length{along, along}, "; play across the run 3/32, along it 1/16<", "(3/32"},
		{estimate.FixClips, [2]measure.Length{along, 2 * along}, "11 (3/32 × 1/16), 30 (3/32 × 1/8); in brackets the play, across × along the run<", "play across"},
		{estimate.FixScrews, [2]measure.Length{0, 0}, "; slot across the run 3/32 long<", "along it"},
		{estimate.FixScrews, [2]measure.Length{along, along}, "; slot across the run 3/32 long, along it 1/16<", "(3/32"},
		{estimate.FixScrews, [2]measure.Length{along, 2 * along}, "30 (3/32 × 1/8); in brackets the slot, across × along the run<", "slot across"},
	} {
		e := drawtest.Make(t, drawtest.Desk())
		e.Fixing.Kind = c.kind
		e.Fixing.Runs = []estimate.RunFixing{{Run: "A", Rows: []estimate.FixingRow{{FromFront: 2 * measure.Inch, SlotLength: across}},
			Places: []estimate.FixingPlace{{Along: 11 * measure.Inch, FromFront: 2 * measure.Inch, SlotAcross: across, SlotAlong: c.alongs[0]},
				{Along: 30 * measure.Inch, FromFront: 2 * measure.Inch, SlotAcross: across, SlotAlong: c.alongs[1]}}}}
		d, err := shopsheet.New(&shopsheet.Input{Paper: document.A4, Estimate: e, Date: "2026-11-03", Language: "en"})
		require.NoError(t, err)
		raw, err := d.HTML()
		require.NoError(t, err)
		_, said, _ := strings.Cut(string(raw), "Fixings ×")
		said, _, _ = strings.Cut(said, "</dl>")
		require.Contains(t, said, c.says)
		require.NotContains(t, said, c.andNot)
	}
}

// A glue-up in several steps says for how many joints the glue stays open, not how many a step has; one is said as one.
func TestGlueUpsAreCountedApartFromTheOpenTime(t *testing.T) {
	t.Parallel()
	for joints, says := range map[int]string{1: "3 glue-ups; the glue stays open for one joint at a time", 11: "3 glue-ups; the glue stays open for 11 joints at a time"} {
		e := drawtest.Make(t, drawtest.Desk())
		for i := range e.Runs {
			e.Runs[i].GlueUp.Count, e.Runs[i].GlueUp.AtOnce = 3, joints
		}
		d, err := shopsheet.New(&shopsheet.Input{Paper: document.A4, Estimate: e, Date: "2026-11-03", Language: "en"})
		require.NoError(t, err)
		raw, err := d.HTML()
		require.NoError(t, err)
		require.Contains(t, string(raw), says)
	}
}

// What comes with the top stands somewhere: one at its place, several at theirs; a batten's sentence has its ends.
func TestWhatComesWithTheTopHasItsPlace(t *testing.T) {
	t.Parallel()
	e := drawtest.Make(t, drawtest.Desk())
	e.Base = &estimate.BaseResult{Props: []estimate.Props{{Run: "A", Text: "Such a bracket.", Positions: []measure.Length{18 * measure.Inch}},
		{Run: "A", Text: "Such a bracket.", Positions: []measure.Length{60 * measure.Inch, 70 * measure.Inch}}, {Run: "B", Text: "Such a batten."}}}
	d, err := shopsheet.New(&shopsheet.Input{Paper: document.A4, Estimate: e, Date: "2026-11-03", Language: "en"})
	require.NoError(t, err)
	raw, err := d.HTML()
	require.NoError(t, err)
	page := regexp.MustCompile(`</?span[^>]*>`).ReplaceAllString(string(raw), "")
	for _, says := range []string{">Such a bracket. The middle stands at 18 from the start of run A.<",
		">Such a bracket. The middles stand at 60, 70 from the start of run A.<", ">Such a batten.<"} {
		require.Contains(t, page, says)
	}
}
