package publishedtest_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/publishedtest"
)

// The sum of all published values that were read and are compared with computed ones. Each test named in compared.csv holds its own
// number by Compared; here they are added up, and each test must be there.
func TestHowManyReadValuesAreCompared(t *testing.T) {
	t.Parallel()
	total := 0.0
	for _, row := range publishedtest.Read(t, "compared.csv", 5) {
		source, err := os.ReadFile(filepath.Join("..", "..", row["test"]))
		require.NoError(t, err)
		require.Contains(t, string(source), `publishedtest.Compared(t, "`+row["file"]+`"`)
		require.True(t, strings.HasSuffix(row["test"], "_test.go"))
		total += row.Float(t, "values")
	}
	t.Logf("%.0f read values are compared with computed ones", total)
	require.GreaterOrEqual(t, total, 650.0)
}

func TestWhatCountsAsRead(t *testing.T) {
	t.Parallel()
	for said, read := range map[string]bool{"read": true, "transcription read": true,
		"confirmed by a reprint of the table": true, "confirmed by a second transcription of Table 5-1": true,
		"from memory, unverified": false, "memory, confirmed by derivation": false, "remembered; agrees with eq. 4-5": false,
		"numbers read, name from memory": false,
		"read (columns interleaved)":     false, "partly confirmed": false, "": false} {
		require.Equal(t, read, publishedtest.Row{"confidence": said}.Read(), said)
	}
}

func TestWhatCountsAsVerified(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		confidence, by, column string
		verified               bool
	}{
		{"read", "", "CT", true},
		{"transcription read", "", "CT", true},
		{"read (columns interleaved)", "", "radial_pct", false},
		{"numbers read, name from memory", "", "radial_pct", false},
		{"memory, confirmed by derivation", "", "CT", true},
		{"memory, radial+tangential confirmed", "", "radial_pct", true},
		{"memory, radial+tangential confirmed", "", "volumetric_pct", false},
		{"from memory, unverified (self-consistent)", "", "CT", false},
		{"confirmed", "all columns", "MOE_GPa", true},
		{"partly confirmed", "G12,MOE,shear (T)", "MOE_GPa", true},
		{"partly confirmed", "G12,MOE,shear (T)", "specific_gravity_green", false},
		{"partly confirmed", "tension (P)", "side_hardness_N", false},
		{"", "", "CT", false},
	} {
		require.Equal(t, c.verified, publishedtest.Row{"confidence": c.confidence, "confirmed_by": c.by}.Verified(c.column),
			"%+v", c)
	}
}
