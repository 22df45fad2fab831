package api_test

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"net/http"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/openapi"
	"seamwright/service/sheet"
)

func (s *shop) load(t testing.TB, part, file string, header ...string) answer {
	t.Helper()
	return s.do(t, http.MethodPut, "/v1/imports/"+part, strings.NewReader(file),
		append([]string{"Content-Type", "text/csv"}, header...)...)
}

func (s *shop) export(t testing.TB, part string) string {
	t.Helper()
	a := s.get(t, "/v1/exports/"+part+".csv")
	require.Equal(t, http.StatusOK, a.status, string(a.body))
	require.Contains(t, a.header.Get("Content-Disposition"), part+".csv")
	return string(a.body)
}

func cells(t testing.TB, file string) [][]string {
	t.Helper()
	records, err := csv.NewReader(strings.NewReader(file)).ReadAll()
	require.NoError(t, err)
	return records
}

func fileOf(t testing.TB, records [][]string) string {
	t.Helper()
	var out bytes.Buffer
	require.NoError(t, csv.NewWriter(&out).WriteAll(records))
	return out.String()
}

// Every part of the seed: export and import change nothing; one edited cell changes exactly that cell.
func TestAnExportLoadedBackChangesNothingAndOneEditedCellChangesThatCell(t *testing.T) {
	t.Parallel()
	s := newShop(t)
	edits := map[string]struct{ column, value string }{
		"species": {"botanical", "=HYPERLINK(\"x\")"}, "fasteners": {"name", "-2 sizes, \"odd\""},
		"materials": {"note", "@ rack 7"}, "tax-regions": {"rate", "7.125"}, "labour-roles": {"rate", "51.50"},
		"labour-standards": {"each_high", "1234.5"}, "climate-profiles": {"note", "'+ as measured"},
		"places":   {"june", "11.25"},
		"settings": {"value", "0.4"}, "prices": {"amount", "870.3456"},
	}
	for _, part := range sheet.Parts() {
		before := s.export(t, part.Name)
		revision := s.cat.Snapshot().Revision
		same := s.load(t, part.Name, before)
		require.Equal(t, http.StatusOK, same.status, "%s: %s", part.Name, same.body)
		tree := same.tree(t)
		require.Equal(t, []any{0.0, 0.0, float64(len(cells(t, before)) - 1), float64(revision)},
			[]any{tree["changed"], tree["created"], tree["unchanged"], tree["revision"]}, part.Name)

		records, edit := cells(t, before), edits[part.Name]
		column := indexOf(t, records[0], edit.column)
		row := len(records) / 2
		if part == sheet.Settings {
			row = rowOf(t, records, "hairline_gap")
		}
		if part == sheet.Prices { // 879.69 in the seed; a larger move would be held
			row = rowOf(t, records, "panel_ash_white_44x914x3658")
		}
		records[row][column] = sheet.Guard(edit.value)
		done := s.load(t, part.Name, "\ufeff"+fileOf(t, records), "X-Actor", "office")
		require.Equal(t, http.StatusOK, done.status, "%s: %s", part.Name, done.body)
		require.Equal(t, 1.0, done.tree(t)["changed"])
		s.seen(t, done)

		after := cells(t, s.export(t, part.Name))
		if part.Versioned {
			version := len(records[0]) - 1
			require.Equal(t, "2", after[row][version], "the change is counted")
			after[row][version] = records[row][version]
		}
		require.Equal(t, records, after, part.Name)
		entry := s.get(t, "/v1/audit-entries?limit=1").tree(t)["items"].([]any)[0].(map[string]any)
		require.Equal(t, []any{part.Name, "replace", "office"}, []any{entry["entity"], entry["action"], entry["actor"]})
		require.NotEqual(t, entry["before"].(map[string]any)[edit.column], entry["after"].(map[string]any)[edit.column])
		if part.Versioned {
			stale := s.load(t, part.Name, before)
			require.Equal(t, http.StatusUnprocessableEntity, stale.status, "the old file would undo the change")
			require.Equal(t, "version", stale.problem(t).Errors[0].Column)
			require.Equal(t, row+1, stale.problem(t).Errors[0].Line)
		}
	}
}

func indexOf(t testing.TB, names []string, name string) int {
	t.Helper()
	for i, n := range names {
		if n == name {
			return i
		}
	}
	require.Fail(t, "no column "+name)
	return -1
}

func rowOf(t testing.TB, records [][]string, key string) int {
	t.Helper()
	for i := range records {
		if records[i][0] == key {
			return i
		}
	}
	require.Fail(t, "no row "+key)
	return -1
}

// No cell of an export can run as a formula, and numbers stay numbers.
func TestNoCellOfAnExportIsAFormula(t *testing.T) {
	t.Parallel()
	s := newShop(t)
	for i, name := range []string{"=1+1", "+cmd", "-x", "@SUM(A1)", "'=1+1", "''-1x", "'quoted'", "-12.5"} {
		a := s.put(t, fmt.Sprintf("/v1/labour-roles/odd_%d", i), fmt.Sprintf(`{"name":%q,"rate":"1"}`, name))
		require.Equal(t, http.StatusCreated, a.status, string(a.body))
	}
	file := s.export(t, "labour-roles")
	for _, row := range cells(t, file)[1:] {
		for _, cell := range row {
			require.NotRegexp(t, `^[=+@\t\r]|^-[^0-9]|^-.*[^0-9.]`, cell)
		}
	}
	require.Equal(t, "-12.5", cells(t, file)[rowOf(t, cells(t, file), "odd_7")][1], "a number stays one")
	require.Equal(t, 0.0, s.load(t, "labour-roles", file).tree(t)["changed"], "loading takes the apostrophes away again")
	for _, row := range cells(t, s.export(t, "settings"))[1:] {
		require.NotRegexp(t, `^'`, row[1], "settings are numbers, also below zero")
	}
}

func TestAFileIsLoadedWholeOrNotAtAllAndEverythingWrongIsListed(t *testing.T) {
	t.Parallel()
	s := newShop(t)
	const head = "code,name,rate,source,version\n"
	before := s.export(t, "labour-roles")
	for name, x := range map[string]struct {
		file string
		want [][3]any // line, column, words
	}{
		"several lines": {head + "good,Good,1,demo,\nBad,Bad,1,demo,\nworse,,x,demo,\nlast,Last,1,nobody,\n",
			[][3]any{{3, "code", "is not a code"}, {4, "name", "must not be empty"}, {4, "rate", "not a plain number"},
				{5, "source", "not in the list of sources"}}},
		"a decimal comma":         {head + "good,Good,\"1,5\",demo,\n", [][3]any{{2, "rate", "a point before the decimals"}}},
		"a number in the form 1E": {head + "good,Good,1E+02,demo,\n", [][3]any{{2, "rate", "plain number"}}},
		"semicolons":              {"code;name;rate;source;version\na;A;1;demo;\n", [][3]any{{1, "", "semicolons"}}},
		"nothing":                 {"", [][3]any{{1, "", "no line with the names"}}},
		"a column missing":        {"code,name,source,version\na,A,demo,\n", [][3]any{{1, "rate", "missing"}}},
		"a column too many": {"code,name,rate,source,version,rat\na,A,1,demo,,\n",
			[][3]any{{1, "rat", "did you mean rate"}}},
		"a column twice":       {"code,name,rate,source,version,rate\na,A,1,demo,,\n", [][3]any{{1, "rate", "stands twice"}}},
		"a short line":         {head + "a,A\nb,B,1,demo,\n", [][3]any{{2, "", "has 2 cells"}}},
		"a row twice":          {head + "a,A,1,demo,\na,B,1,demo,\n", [][3]any{{3, "code", "line 2 already"}}},
		"an open quotation":    {head + "a,\"A,1,demo,\n", [][3]any{{2, "", "quotation marks"}}},
		"another encoding":     {head + "a,Na\xefve,1,demo,\n", [][3]any{{2, "", "not UTF-8"}}},
		"a row that exists":    {head + "maker,Maker,1,demo,\n", [][3]any{{2, "version", "give the version"}}},
		"a row that is gone":   {head + "maker_2,Maker,1,demo,3\n", [][3]any{{2, "version", "does not exist"}}},
		"a version of another": {head + "maker,Maker,1,demo,7\n", [][3]any{{2, "version", "at version 1 now"}}},
		"a version of no form": {head + "maker,Maker,1,demo,v1\n", [][3]any{{2, "version", "plain number"}}},
	} {
		a := s.load(t, "labour-roles", x.file)
		require.Equal(t, http.StatusUnprocessableEntity, a.status, "%s: %s", name, a.body)
		p := a.problem(t)
		require.Len(t, p.Errors, len(x.want), "%s: %s", name, a.body)
		for i, want := range x.want {
			require.Equal(t, []any{want[0], want[1]}, []any{p.Errors[i].Line, p.Errors[i].Column}, "%s: %s", name, a.body)
			require.Contains(t, p.Errors[i].Detail, want[2], name)
		}
	}
	require.Equal(t, before, s.export(t, "labour-roles"))
	require.Equal(t, http.StatusUnsupportedMediaType, s.put(t, "/v1/imports/labour-roles", before).problem(t).Status)
	require.Equal(t, http.StatusNotFound, s.load(t, "nails", before).problem(t).Status)
	require.Equal(t, http.StatusNotFound, s.get(t, "/v1/exports/nails.csv").problem(t).Status)
	require.Equal(t, http.StatusNotFound, s.get(t, "/v1/exports/species").problem(t).Status)
	require.Equal(t, http.StatusRequestEntityTooLarge, s.load(t, "labour-roles",
		head+strings.Repeat("\n", 16<<20)).problem(t).Status)
	require.Equal(t, http.StatusBadRequest, s.load(t, "labour-roles", before, "If-Match", "*").problem(t).Status)
}

// Rows of one file may refer to each other, in any order of lines and columns, and empty lines do not matter.
func TestRowsOfAFileMayReferToEachOther(t *testing.T) {
	t.Parallel()
	s := newShop(t)
	records := cells(t, s.export(t, "labour-standards"))
	after, version := indexOf(t, records[0], "after"), len(records[0])-1
	row := func(code, follows string) []string {
		r := append([]string(nil), records[1]...)
		r[0], r[after], r[version] = code, follows, ""
		return r
	}
	circle := s.load(t, "labour-standards",
		fileOf(t, [][]string{records[0], row("first", "second"), row("second", "first")}))
	require.Equal(t, http.StatusUnprocessableEntity, circle.status)
	require.Len(t, circle.problem(t).Errors, 2)
	a := s.load(t, "labour-standards",
		fileOf(t, [][]string{records[0], row("first", "second"), make([]string, len(records[0])), row("second", "glue_up")}))
	require.Equal(t, http.StatusOK, a.status, string(a.body))
	require.Equal(t, 2.0, a.tree(t)["created"])

	example, err := openapi.Document()
	require.NoError(t, err)
	for _, e := range example.Paths.Value("/v1/imports/{part}").Put.RequestBody.Value.Content["text/csv"].Examples {
		a := s.load(t, "labour-roles", e.Value.Value.(string))
		require.Equal(t, http.StatusOK, a.status, string(a.body))
		require.Equal(t, []any{1.0, 1.0}, []any{a.tree(t)["created"], a.tree(t)["changed"]})
	}
}

// A price that is corrected by hand, or begins by hand, is held against the one of its day. By the seed, a pack of 100
// costs 9.21 from 2026-01-01 on and 9.80 from 2026-10-01 on.
func TestAPriceByHandMovesWithinTheLimitUnlessTheCallSaysOtherwise(t *testing.T) {
	t.Parallel()
	s := newMarket(t)
	const path, head = "/v1/imports/prices", "item,size,supplier,valid_from,currency,amount\n"
	load := func(query, rows string) answer {
		t.Helper()
		return s.do(t, http.MethodPut, path+query, strings.NewReader(head+rows), "Content-Type", "text/csv")
	}
	before := string(s.get(t, "/v1/exports/prices.csv").body)
	a := load("", `biscuit_0,100,demo,2026-10-01,USD,98.00
biscuit_0,100,demo,2026-11-01,USD,7.34
biscuit_0,100,demo,2026-11-02,USD,12.25
biscuit_10,100,demo,2026-11-03,EUR,99
biscuit_10,100,demo,2026-11-04,USD,99
`)
	require.Equal(t, http.StatusUnprocessableEntity, a.status, string(a.body))
	var got []string
	for _, e := range a.problem(t).Errors {
		got = append(got, fmt.Sprintf("%d %s %s", e.Line, e.Column, e.Detail))
	}
	const fix = " If that is right, load the file with allow_moves=true."
	require.Equal(t, []string{
		"2 amount The price moves by 900.0 %, from 9.8 to 98; the limit of the supplier demo is 25 %." + fix,
		"3 amount The price moves by -25.1 %, from 9.8 to 7.34; the limit of the supplier demo is 25 %." + fix,
		"5 currency Must be USD, the catalogue's currency.",
		"6 amount The price moves by 851.9 %, from 10.4 to 99; the limit of the supplier demo is 25 %." + fix,
	}, got, "a move of just the limit passes, and what is wrong by itself is not reckoned with")
	require.Equal(t, before, string(s.get(t, "/v1/exports/prices.csv").body), "nothing of it is loaded")

	s.exec(t, `UPDATE supplier SET move_limit = 12.5 WHERE code = 'demo'; INSERT INTO supplier (code, name) VALUES ('mill', 'North mill (invented)')`)
	require.Contains(t, load("", "biscuit_0,100,demo,2026-11-02,USD,12.25\n").problem(t).Errors[0].Detail,
		"the limit of the supplier demo is 12.5 %")
	for _, good := range []string{"biscuit_0,100,demo,2026-11-02,USD,11.02\n", "biscuit_0,100,mill,2026-11-02,USD,98\n",
		"biscuit_0,100,demo,2025-01-01,USD,98\n"} {
		a := load("", good)
		require.Equal(t, http.StatusOK, a.status, string(a.body))
	}
	require.Equal(t, http.StatusUnprocessableEntity, load("?allow_moves=false",
		"biscuit_0,100,mill,2026-11-03,USD,9.8\n").status)
	require.Equal(t, http.StatusOK, load("?allow_moves=true", "biscuit_0,100,mill,2026-11-03,USD,9.8\n").status)
	require.Equal(t, http.StatusBadRequest, load("?allow_moves=yes", "").problem(t).Status)
	other := s.do(t, http.MethodPut, "/v1/imports/settings?allow_moves=true", strings.NewReader("key,value\n"),
		"Content-Type", "text/csv")
	require.Contains(t, other.problem(t).Errors[0].Detail, "Only prices")
}
