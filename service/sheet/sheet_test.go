package sheet_test

import (
	"encoding/json"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/service/sheet"
)

func TestUnguardUndoesGuardAndNothingElse(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringMatching(`['=+\-@\t]{0,3}[a-z0-9.=' ]{0,5}`).Draw(t, "text")
		guarded := sheet.Guard(text)
		require.Equal(t, text, sheet.Unguard(guarded))
		if guarded != "" && strings.ContainsRune("=+@\t\r", rune(guarded[0])) {
			t.Fatalf("%q would run as a formula", guarded)
		}
	})
	for text, want := range map[string]string{"=1": "'=1", "+1": "'+1", "-1": "-1", "-1.5": "-1.5", "-1+2": "'-1+2",
		"@a": "'@a", "'=1": "''=1", "'a": "'a", "a=": "a=", "": ""} {
		require.Equal(t, want, sheet.Guard(text), text)
	}
}

func TestACellHasOneCanonicalForm(t *testing.T) {
	t.Parallel()
	number := sheet.Column{Kind: sheet.Number, Low: -10, High: 1000}
	exact := sheet.Column{Kind: sheet.Decimal, High: 1000, Places: 4}
	sizes := sheet.Column{Kind: sheet.Sizes, High: 1000, Places: 4, Most: 5}
	codes := sheet.Column{Kind: sheet.Codes, Most: 5}
	truth := sheet.Column{Kind: sheet.Truth}
	for _, c := range []struct {
		column     sheet.Column
		text, want string
	}{
		{number, " 25.40 ", "25.4"}, {number, "007", "7"}, {number, "-0", "0"}, {number, "0.1000", "0.1"}, {exact, "9.8000", "9.8"}, {exact, "00.50", "0.5"},
		{sizes, "10  2.50 1", "1 2.5 10"}, {codes, "b_1 a", "a b_1"}, {truth, "TRUE", "true"}, {truth, "False", "false"},
	} {
		got, err := c.column.Read(c.text)
		require.NoError(t, err, c.text)
		require.Equal(t, c.want, got)
		again, err := c.column.Read(got)
		require.NoError(t, err)
		require.Equal(t, got, again)
	}
	for _, c := range []struct {
		column sheet.Column
		text   string
	}{
		{number, "1e3"}, {number, "NaN"}, {number, "0x10"}, {number, "1,5"}, {number, "1001"}, {number, "+5"}, {number, ".5"},
		{number, "5."}, {number, strings.Repeat("1", 41)},
		{exact, "0.12345"}, {sizes, "1 1.0"}, {codes, "a a"}, {codes, "A"}, {truth, "yes"}, {sizes, "1 2 3 4 5 6"},
		{sheet.Column{Kind: sheet.Day}, "2026-02-30"}, {sheet.Column{Kind: sheet.Whole, High: 9}, "1.5"}, {sheet.Column{Kind: sheet.Text, Longest: 3}, "abcd"},
	} {
		_, err := c.column.Read(c.text)
		require.Error(t, err, c.text)
	}
}

func TestARowAsJSONHasTheTypesOfItsColumns(t *testing.T) {
	t.Parallel()
	row := sheet.Materials.Empty()
	for column, cell := range map[string]string{"code": "x", "kind": "lumber", "name": `a "b"`, "packs": "1 2.5",
		"stock_lengths_mm": "1000 2000", "clear_twelfths": "10"} {
		row.Set(column, cell)
	}
	var got map[string]any
	require.NoError(t, json.Unmarshal(row.JSON(), &got))
	require.Len(t, got, len(sheet.Materials.Columns))
	require.Equal(t, `a "b"`, got["name"])
	require.Equal(t, []any{1.0, 2.5}, got["packs"])
	require.Equal(t, 10.0, got["clear_twelfths"])
	require.Nil(t, got["glue"])
	require.Nil(t, got["spread_m2"])
}

func TestEveryPartIsFoundByItsName(t *testing.T) {
	t.Parallel()
	for _, p := range sheet.Parts() {
		require.Equal(t, p, sheet.Find(p.Name))
		seen := map[string]bool{}
		for _, name := range p.Head() {
			require.False(t, seen[name], "%s has %s twice", p.Name, name)
			seen[name] = true
		}
	}
	require.Nil(t, sheet.Find("nails"))
}

func FuzzReadCSV(f *testing.F) {
	f.Add([]byte("code,name,rate,source,version\na,A,1,demo,\n"))
	f.Add([]byte("\ufeffversion,code,name,rate,source\n,a,'=x,1,demo\n"))
	f.Add([]byte("code;name\n\"\x00"))
	f.Fuzz(func(t *testing.T, raw []byte) {
		lines, wrong := sheet.LabourRoles.ReadCSV(raw)
		for _, w := range wrong {
			require.NotEmpty(t, w.Detail)
			require.Positive(t, w.Row)
		}
		for _, l := range lines {
			for i, cell := range l.Row.Cells {
				again, err := l.Row.Part.Columns[i].Read(cell)
				require.NoError(t, err)
				require.Equal(t, cell, again)
			}
		}
	})
}
