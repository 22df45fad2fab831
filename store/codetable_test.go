package store

import (
	"context"
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestACodeTableFindsWhatWasAddedInAnyOrder(t *testing.T) {
	t.Parallel()
	var table codeTable
	require.Equal(t, -1, table.findText("thing_0"))
	const many = 5000
	for i := range many {
		require.Equal(t, i, table.add(fmt.Appendf(nil, "thing_%d", i)))
	}
	require.Equal(t, 7, table.add([]byte("thing_7")), "it is there already")
	cursor := codeCursor{table: &table}
	for i := range 2 * many {
		n := i * 7919 % many // 7919 is a prime: all numbers, scattered, and then a run
		if i >= many {
			n = i - many
		}
		require.Equal(t, n, cursor.findText(fmt.Sprintf("thing_%d", n)))
	}
	for _, text := range []string{"", "thing", "thing_5000", "thing_1thing_2"} {
		require.Equal(t, -1, cursor.findText(text))
	}
	require.Equal(t, "thing_0", table.at(0))
	require.Len(t, table.all(), many)
}

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
