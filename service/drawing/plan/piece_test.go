package plan

import (
	"math"
	"path/filepath"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/catalogue"
	"seamwright/service/estimate"
	"seamwright/service/hardware"
	"seamwright/service/measure"
	"seamwright/service/template"
	"seamwright/store/storetest/drawtest"
	"seamwright/store/storetest/goldentest"
)

// checkPiece draws a piece and holds its labels against each other, the sheet's edge and its outline, and its scale and corners
// against the estimate's piece.
func checkPiece(t require.TestingT, e *estimate.Estimate, i int) {
	for _, o := range []Options{{Width: 174}, {Width: 180, Screen: true}, {Narrow: true}} {
		for _, below := range []bool{false, true} {
			s, err := newSheet(e, o)
			require.NoError(t, err)
			p := piece{sheet: s, index: i, out: &PieceSheet{}}
			doc := p.draw(below)
			drawtest.Read(t, doc)
			require.Empty(t, drawtest.Collisions(s.Boxes()))
			require.Empty(t, struck(t, doc, s.notes.Boxes()))
			for _, b := range s.Boxes() {
				require.True(t, b.X0 > 0 && b.X1 < s.width+2*s.frame && b.Y0 > 0, "%q leaves the sheet: %v", b.Text, b)
			}
			one := &e.Runs[i].Piece
			corners, outline := p.runs[i].outline, one.Outline
			for n := range outline {
				m := (n + 1) % len(outline)
				side := float64(outline[n].Distance(outline[m]))
				require.InDelta(t, side, distance(corners[n], corners[m])*float64(s.ratio), 1e-6)
				require.InDelta(t, side, math.Hypot(float64(p.local[n].along-p.local[m].along),
					float64(p.local[n].front-p.local[m].front)), 1e-6)
				require.GreaterOrEqual(t, float64(p.local[n].along), -1e-6, "every corner lies within the tips")
				require.GreaterOrEqual(t, float64(p.local[n].front), -1e-6)
			}
			from, to := p.frontEdge()
			require.InDelta(t, float64(one.FrontEdge), float64(to-from), 0.02, "the piece's own front edge")
			require.InDelta(t, float64(one.WallEdge), float64(p.runs[i].piece.wall()), 0.02, "its own wall edge")
		}
	}
}

func TestPiecesKeepTheirLabelsApartAndTheirSize(t *testing.T) {
	for name, order := range table {
		t.Run(name, func(t *testing.T) {
			e := drawtest.Make(t, order())
			for i := range e.Runs {
				checkPiece(t, e, i)
			}
		})
	}
}

// Seen from above a piece lies as it does on the plan, turned; from below it is its mirror image.
func TestFromBelowIsTheMirrorImage(t *testing.T) {
	for _, order := range []func() estimate.Order{drawtest.Desk, drawtest.DryBar, kitchen} {
		e := drawtest.Make(t, order())
		for i := range e.Runs {
			turn := func(below bool) float64 {
				s, err := newSheet(e, Options{Width: 174})
				require.NoError(t, err)
				p := piece{sheet: s, index: i, out: &PieceSheet{}}
				p.draw(below)
				area := 0.0 // signed
				c := p.runs[i].outline
				for n := range c {
					m := (n + 1) % len(c)
					area += c[n].X*c[m].Y - c[m].X*c[n].Y
				}
				return math.Copysign(1, area)
			}
			require.Equal(t, -1.0, turn(false), "an outline goes round against the clock, and y goes down on paper")
			require.Equal(t, 1.0, turn(true))
		}
	}
}

// A cut-out is told from the ends and edges that its piece has: distances and size add up to the piece.
func TestCutoutsAreToldFromTheirPiece(t *testing.T) {
	e := drawtest.Make(t, kitchen())
	read := func(text string) float64 {
		l, err := measure.ParseLength(text, measure.Inches)
		require.NoError(t, err)
		return l.Inches()
	}
	p, err := Piece(e, 1, Options{Width: 174})
	require.NoError(t, err)
	require.Len(t, p.Cutouts, 1)
	c, one := p.Cutouts[0], &e.Runs[1].Piece
	require.Equal(t, "30 × 18", c.Size)
	require.InDelta(t, one.LongEdge.Inches(), read(c.FromStart)+30+read(c.FromEnd), 2.0/32)
	require.InDelta(t, e.Runs[1].Depth.Inches(), read(c.FromFront)+18+read(c.FromWall), 2.0/32)
	require.InDelta(t, read(c.FromStart)+15, read(c.CentreStart), 2.0/32)
	require.InDelta(t, read(c.FromFront)+9, read(c.CentreFront), 2.0/32)
	open, err := Piece(drawtest.Make(t, apron()), 0, Options{Width: 174})
	require.NoError(t, err)
	require.Equal(t, "open", open.Cutouts[0].FromFront)
	require.Equal(t, []string{"open"}, []string{mustPiece(t, apron, 1).Cutouts[0].FromWall})
	for _, i := range []int{-1, 3} {
		_, err = Piece(e, i, Options{})
		require.ErrorContains(t, err, "There is no piece")
	}
}

func mustPiece(t *testing.T, order func() estimate.Order, i int) *PieceSheet {
	p, err := Piece(drawtest.Make(t, order()), i, Options{Width: 174})
	require.NoError(t, err)
	return p
}

// Recesses of draw bolts stand inside the piece, and pockets in one of the two pieces alone.
func TestPocketsAreBoredIntoOnePiece(t *testing.T) {
	e := drawtest.Make(t, drawtest.Short())
	c := &e.Corners[0]
	bored := 0
	for i := range e.Runs {
		require.Equal(t, catalogue.PocketScrew, c.ChosenCandidate().Hardware.Pull.Groups[0].Kind)
		if slices.ContainsFunc(template.Beside(e, 0, i), func(s template.Shape) bool { return s.Feature == template.Feature(hardware.PocketCut) }) {
			bored++
			require.NotEqual(t, e.Runs[i].Name, c.Chosen.ThroughRun(e.Runs[0].Name, e.Runs[1].Name),
				"the piece that stops is bored")
		}
	}
	require.Equal(t, 1, bored)
}

func TestGoldenPieces(t *testing.T) {
	for _, name := range []string{"desk", "bar_left", "reflex", "kitchen", "apron", "short", "crowded", "shaped", "on_base"} {
		e := drawtest.Make(t, table[name]())
		for i := range e.Runs {
			p, err := Piece(e, i, Options{Width: 174})
			require.NoError(t, err)
			for suffix, got := range map[string][]byte{"_above": p.Above, "_below": p.Below} {
				path := filepath.Join("testdata", "piece_"+name+"_"+string(rune('1'+i))+suffix+".svg")
				goldentest.Hold(t, path, got)
			}
		}
	}
}
