package lists

import (
	"context"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestRowsThatCopySendsAreTakenApart(t *testing.T) {
	t.Parallel()
	var got [][]string
	rows := &copiedRows{ctx: context.Background(), read: func(cells [][]byte) error {
		var row []string
		for _, c := range cells {
			row = append(row, string(c))
		}
		got = append(got, row)
		return nil
	}}
	for _, piece := range []string{"a\t1.0000\n", "b", "\t2", ".0000\nc\\\\d\t\\N\n", "\\\\\t\n"} {
		n, err := rows.Write([]byte(piece))
		require.NoError(t, err)
		require.Len(t, piece, n)
	}
	require.Equal(t, [][]string{{"a", "1.0000"}, {"b", "2.0000"}, {`c\d`, `\N`}, {`\`, ""}}, got)
}

func TestPricesOfTheDatabaseAreReadAndWrittenExactly(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]int64{"0.0001": 1, "12.5000": 125_000, "9999999999.9999": 99_999_999_999_999} {
		n, err := parseTenThousandths([]byte(text))
		require.NoError(t, err)
		require.Equal(t, want, n)
		require.Equal(t, text, string(appendTenThousandths(nil, n)))
	}
	require.Equal(t, "-0.0500", string(appendTenThousandths(nil, -500)))
	for _, text := range []string{"", "12", "12.50", "12.50000", "-1.0000", "1,0000", "NaN", ".0000"} {
		_, err := parseTenThousandths([]byte(text))
		require.Error(t, err, text)
	}
}
