package hardware_test

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/hardware"
	"seamwright/service/measure"
	"seamwright/service/publishedtest"
)

// NDS 2015/2018, Table 12.2A, lag screws: pounds per inch of thread in side grain, printed without decimals.
func TestLagScrewsAgreeWithTheNDSTable(t *testing.T) {
	t.Parallel()
	f, err := os.Open("../../testdata/published/nds_lag_screw_withdrawal.csv")
	require.NoError(t, err)
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	rows, err := r.ReadAll()
	require.NoError(t, err)
	require.Len(t, rows[1:], 242, "22 specific gravities by 11 diameters")
	require.Equal(t, []string{"G", "diameter_in_text", "diameter_in", "W_lbf_per_in_printed"}, rows[0][:4])
	worst, compared := 0.0, 0
	for _, row := range rows[1:] {
		g, printed := number(t, row[0]), number(t, row[3])
		d := measure.Length(number(t, row[2])) * measure.Inch
		got := hardware.LagScrewAllowable(g, d, measure.Inch).PoundsForce()
		require.InDelta(t, printed, got, 0.5, "G %v, %s in", g, row[1])
		worst, compared = max(worst, math.Abs(got-printed)), compared+1
	}
	publishedtest.Compared(t, "nds_lag_screw_withdrawal.csv", compared)
	t.Logf("242 cells; the worst is %.3f lbf from the printed one, which is rounded to 1 lbf", worst)
}

func number(t *testing.T, text string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(text, 64)
	require.NoError(t, err)
	return x
}

// NDS Table 12.2B, wood screws: printed values remembered, not read in a copy.
func TestWoodScrewsAgreeWithRememberedNDSValues(t *testing.T) {
	t.Parallel()
	gravities := []float64{0.42, 0.50, 0.55, 0.67}
	for thread, want := range map[measure.Length][]float64{
		0.164 * measure.Inch: {82, 117, 141, 210}, // No. 8
		0.190 * measure.Inch: {96, 135, 164, 243}, // No. 10; the first is a near half, 95.5
	} {
		for i, g := range gravities {
			require.InDelta(t, want[i], hardware.WoodScrewAllowable(g, thread, measure.Inch).PoundsForce(), 0.52, "G %v", g)
		}
	}
}

// Wood Handbook, chapter 8: the inch constants 15700 and 8100 (remembered) against their metric twins 108.25 and 125.4
// (newtons and millimetres).
func TestUltimateLoadsAgreeInBothSystems(t *testing.T) {
	t.Parallel()
	const g, d, l = 0.63, 4.1656, 32.0
	require.InEpsilon(t, 108.25*g*g*d*l, hardware.WoodScrewUltimate(g, d, l).Newtons(), 2e-4)
	require.InEpsilon(t, 125.4*math.Pow(g, 1.5)*math.Pow(8, 0.75)*l, hardware.LagScrewUltimate(g, 8, l).Newtons(), 2e-4)
}

func TestScrewsFromAQuarterInchCountAsLagScrews(t *testing.T) {
	t.Parallel()
	seam := studioButt()
	seam.SlipRate = 0
	lag := screw8
	lag.ThreadDiameter, lag.HeadDiameter, lag.BoreDiameter = measure.Inch/4, 14, 15
	for _, tt := range []struct {
		name      string
		allowable measure.Force
		ultimate  measure.Force
	}{
		{"No. 8", hardware.WoodScrewAllowable(0.67, screw8.ThreadDiameter, 32), hardware.WoodScrewUltimate(0.63, screw8.ThreadDiameter, 32)},
		{"1/4 in", hardware.LagScrewAllowable(0.67, lag.ThreadDiameter, 32), hardware.LagScrewUltimate(0.63, lag.ThreadDiameter, 32)},
	} {
		part := screw8
		if tt.name != "No. 8" {
			part = lag
		}
		p := choose(t, seam, hardware.Wish{}, shop(t, biscuit20, part))
		n := measure.Force(p.Pull.Groups[0].Count)
		require.True(t, p.Pull.Groups[0].Counts, tt.name)
		require.InDelta(t, float64(n*tt.allowable), float64(p.Pull.Capacity), 1e-9, tt.name)
		require.InDelta(t, float64(n*tt.ultimate), float64(p.Pull.Ultimate), 1e-9, tt.name)
	}
}

// Wood Handbook, eq. 8-1 for nails, the twin of the screws' equations: 7850·G^2.5·D lbf an inch (54.12 in newtons and
// millimetres). No nail holds a top; the nine published loads bear out the handbook's form and the conversion of its
// units.
func TestNailsHoldAsPublished(t *testing.T) {
	t.Parallel()
	read := 0
	for _, row := range publishedtest.Read(t, "nail_withdrawal.csv", 8) {
		d := measure.Length(row.Float(t, "diameter_in")) * measure.Inch
		got := hardware.NailUltimate(row.Float(t, "gravity_12"), d, measure.Inch).PoundsForce()
		require.InDelta(t, row.Float(t, "printed_lbf"), got, 0.5, "%v", row)
		read++
	}
	publishedtest.Compared(t, "nail_withdrawal.csv", read)
}
