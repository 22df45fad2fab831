package saw

import (
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/drawing/pen"
	"seamwright/service/estimate"
	"seamwright/service/measure"
	"seamwright/store/demotest"
	"seamwright/store/storetest/drawtest"
)

// Blocks under a slab are numbered behind its staves: their labels count blocks, and no stave is "10 of 9".
func TestLabelsOfABuiltUpSlabCountItsBlocksByThemselves(t *testing.T) {
	o := drawtest.Desk()
	o.Top.Thickness, o.Top.Build = 3*measure.Inch, estimate.BuiltUp
	e, err := estimate.Make(o, demotest.Catalogue(t))
	require.NoError(t, err)
	sheets, err := Labels(e, LabelOptions{Width: 210, Height: 297, Job: "job"})
	require.NoError(t, err)
	said := ""
	for _, sheet := range sheets {
		said += string(sheet)
	}
	for i := range e.Runs {
		b := &e.Runs[i].Blank
		require.Positive(t, b.BlockCount())
		staves, blocks := strconv.Itoa(b.LayerStaves()), strconv.Itoa(b.BlockCount())
		require.Contains(t, said, ">"+staves+" of "+staves+", counted from the front<")
		strips := strconv.Itoa(b.Staves - b.LayerStaves())
		require.Contains(t, said, ">"+strips+" of "+strips+" for the strips under the slab<", "a strip lies below")
		require.Contains(t, said, ">block "+blocks+" of "+blocks+" under the slab<")
		require.NotContains(t, said, ">"+strconv.Itoa(b.LayerStaves()+1)+" of ")
	}
	count := 0
	for i := range e.Runs {
		count += e.Runs[i].Blank.BlockCount()
	}
	require.Equal(t, count, strings.Count(said, ">block "))
}

// A stave of a lower layer is counted in its own layer, as the blank is drawn; the pieces of joined ones are only numbered, and
// the drawing says how long those are that belong in each place.
func TestLabelsSayWhereAStaveLies(t *testing.T) {
	said := func(o estimate.Order) (e *estimate.Estimate, labels, boards string) {
		e, err := estimate.Make(o, demotest.Catalogue(t))
		require.NoError(t, err)
		sheets, err := Labels(e, LabelOptions{Width: 210, Height: 297, Job: "job"})
		require.NoError(t, err)
		for _, sheet := range sheets {
			labels += string(sheet)
		}
		p, err := New(e, Options{})
		require.NoError(t, err)
		return e, labels, string(p.SVG())
	}
	o := drawtest.Desk()
	o.Top.Thickness, o.Top.Build = 3*measure.Inch, estimate.Laminated
	e, labels, _ := said(o)
	of := strconv.Itoa(e.Runs[0].Blank.LayerStaves())
	require.Contains(t, labels, ">layer 1: "+of+" of "+of+" from the front<")
	require.Contains(t, labels, ">layer 2: 1 of "+of+" from the front<")
	require.Contains(t, labels, ">layer 2: halved, front and wall<")
	require.NotContains(t, labels, "counted from the front")

	o = drawtest.Desk()
	o.Top.Runs, o.Top.Corners = []estimate.Run{{Name: "A", Length: 236 * measure.Inch, Depth: 20 * measure.Inch}}, nil
	e, labels, boards := said(o)
	b := &e.Runs[0].Blank
	require.Positive(t, b.Joined.Count)
	all := strconv.Itoa(b.Parts())
	require.Contains(t, labels, ">piece "+all+" of "+all+", finger-jointed<")
	require.NotContains(t, labels, "from the front")
	for _, part := range b.Joined.Parts[:b.Joined.Count] {
		require.GreaterOrEqual(t, strings.Count(boards, ">"+part.Text(e.Units)+"<"), b.Staves)
	}
}

// However long a piece's name is, its staves keep their numbers on the boards: the saw writes them down.
func TestALongNameLeavesItsStavesNumbers(t *testing.T) {
	o := drawtest.Desk()
	o.Top.Runs[0].Name, o.Top.Runs[1].Name = "The side along the window", "The side to the passage"
	e := drawtest.Make(t, o)
	l := pen.Letters{Size: pen.Body, At: pen.Middle, Bold: true}
	for _, boards := range e.Sawing() {
		for _, b := range boards {
			for _, s := range b.Strips {
				for k := range s.Staves {
					text := staveText(&s.Staves[k], "96", 24, l)
					require.True(t, strings.HasSuffix(text, "… "+strconv.Itoa(s.Staves[k].Number)), text)
					require.LessOrEqual(t, pen.Width(text, l), 24.0)
					require.Empty(t, staveText(&s.Staves[k], "96", 3, l))
				}
			}
		}
	}
}
