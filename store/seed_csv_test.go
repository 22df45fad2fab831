package store

import (
	"io/fs"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/require"
)

var trial = seedTable{"trial", []seedColumn{{"code", text}, {"size", maybe(decimal)}, {"many", count}, {"on", truth}, {"from", day}, {"lengths", rising}, {"note", words}}}

func seedFile(text string) fs.FS { return fstest.MapFS{"seed/trial.csv": {Data: []byte(text)}} }

func TestReadSeedTakesCommentsEmptyCellsAndQuotes(t *testing.T) {
	t.Parallel()
	_, rows, err := readSeed(seedFile("# where it is from\ncode,size,many,on,from,lengths,note\n# more\na,,3,true,2026-01-31,1 2.5,\"x, #y\"\n"), trial)
	require.NoError(t, err)
	require.Equal(t, [][]any{{"a", nil, int64(3), true, "2026-01-31", []float64{1, 2.5}, "x, #y"}}, rows)
}

func TestSeedFaultsAreNamedByFileLineAndColumn(t *testing.T) {
	t.Parallel()
	const head = "# source\ncode,size,many,on,from,lengths,note\n"
	for _, c := range []struct{ name, text, says string }{
		{"no columns", "# source\n", "seed/trial.csv: column names: EOF"},
		{"an unknown column", "code,weight\n", `seed/trial.csv: the column "weight" stands twice, or the table trial has none of that name`},
		{"a column twice", "size,code,size\n", `seed/trial.csv: the column "size" stands twice`},
		{"short row", head + "a,1\n", "seed/trial.csv: record on line 3: wrong number of fields"},
		{"open quote", head + "a,1,1,true,2026-01-01,1,\"x\n", `seed/trial.csv: parse error on line 3, column 28: extraneous or missing " in quoted-field`},
		{"empty code", head + ",1,1,true,2026-01-01,1,\n", `seed/trial.csv, line 3, column code: "" is empty`},
		{"blank after a code", head + "a ,1,1,true,2026-01-01,1,\n", `column code: "a " is empty or has blanks around it`},
		{"letters for a number", head + "a,1,1,true,2026-01-01,1,\nb,1o,1,true,2026-01-01,1,\n", `seed/trial.csv, line 4, column size: "1o" is not a decimal number`},
		{"no number", head + "a,NaN,1,true,2026-01-01,1,\n", `column size: "NaN" is not a decimal number`},
		{"hexadecimal number", head + "a,0x1p4,1,true,2026-01-01,1,\n", `column size: "0x1p4" is not a decimal number`},
		{"fraction for a count", head + "a,1,1.5,true,2026-01-01,1,\n", `column many: "1.5" is not a whole number`},
		{"neither true nor false", head + "a,1,1,yes,2026-01-01,1,\n", `column on: "yes" is neither true nor false`},
		{"no such day", head + "a,1,1,true,2026-02-30,1,\n", `column from: "2026-02-30" is not a date`},
		{"lengths that fall", head + "a,1,1,true,2026-01-01,2 1,\n", `column lengths: "2 1" does not rise`},
		{"no length", head + "a,1,1,true,2026-01-01,,\n", "column lengths: no number at all"},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			_, _, err := readSeed(seedFile(c.text), trial)
			require.ErrorContains(t, err, c.says)
		})
	}
}

// Every file belongs to a table, every table has its file, and each says where its data is from.
func TestEverySeedFileIsRead(t *testing.T) {
	t.Parallel()
	files, err := fs.Glob(seedFiles, "seed/*.csv")
	require.NoError(t, err)
	require.Len(t, files, len(seedTables))
	for _, table := range seedTables {
		text, err := fs.ReadFile(seedFiles, table.file())
		require.NoError(t, err)
		require.Regexp(t, `^# `, string(text), "%s: the head says where the data is from", table.file())
		require.Regexp(t, `(?i)source|invented|common practice|handbook`, string(text), table.file())
		_, rows, err := readSeed(seedFiles, table)
		require.NoError(t, err)
		require.NotEmpty(t, rows)
	}
}

func TestFingerprintIsShortAndSteady(t *testing.T) {
	t.Parallel()
	require.Regexp(t, `^[0-9a-f]{16}$`, Fingerprint())
	first := Fingerprint()
	require.Equal(t, first, Fingerprint())
}
