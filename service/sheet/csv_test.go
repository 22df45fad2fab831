package sheet_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/sheet"
)

// What is wrong with a file, by line and column.
func TestWrongFiles(t *testing.T) {
	t.Parallel()
	const head = "code,name,rate,source,version\n"
	for name, c := range map[string]struct {
		file  string
		wrong []string // line, column and what the sentence has
		lines int
	}{
		"good":                   {head + "a,A,1,demo,\nb,B,2,demo,3\n", nil, 2},
		"columns in other order": {"version,rate,code,source,name\n3,1,a,demo,A\n", nil, 1},
		"blanks and empty lines": {" code , name ,rate,source,version\na,A,1,demo,\n,,,,\nb,B,2,demo,\n", nil, 2},
		"an unknown column": {"code,name,rates,source,version\na,A,1,demo,\n",
			[]string{"1 rates There is no column", "1 rate The column is missing"}, 0},
		"a column twice": {"code,name,rate,source,version,name\na,A,1,demo,,A\n",
			[]string{"1 name The column stands twice"}, 0},
		"a column too few": {"code,name,rate,source\na,A,1,demo\n", []string{"1 version The column is missing"}, 0},
		"semicolons": {"code;name;rate;source;version\na;A;1;demo;\n",
			[]string{"1  The cells are separated by semicolons"}, 0},
		"nothing": {"", []string{"1  The file has no line"}, 0},
		"a cell too few": {head + "a,A,1,demo,\nb,B,2\nc,C,3,demo,\n",
			[]string{"3  The line has 3 cells; the first line has 5"}, 2},
		"a wrong cell":    {head + "a,A,1,demo,\nb,B,x,demo,\n", []string{`3 rate rate "x" is not a plain number`}, 1},
		"two wrong cells": {head + "B,B,x,demo,\n", []string{`2 code code "B" is not a code`, `2 rate rate "x"`}, 0},
		"a wrong version": {head + "a,A,1,demo,0\n", []string{"2 version version is 0"}, 0},
		"the same row twice": {head + "a,A,1,demo,\nb,B,1,demo,\na,C,1,demo,\n",
			[]string{"4 code a stands in line 2 already"}, 2},
		"a row that was wrong before": {head + "a,A,x,demo,\na,A,1,demo,\n", []string{`2 rate rate "x"`}, 1},
		"open quotation marks":        {head + "a,A,1,demo,\nb,\"B,2,demo,\n", []string{"3  The quotation marks"}, 1},
		"not UTF-8": {head + "a,\u00c4,1,demo,\nb,\xc4,1,demo,\n",
			[]string{"3  The file is not UTF-8 from here on"}, 0},
	} {
		lines, wrong := sheet.LabourRoles.ReadCSV([]byte(c.file))
		require.Len(t, lines, c.lines, name)
		require.Len(t, wrong, len(c.wrong), "%s: %v", name, wrong)
		for i, w := range wrong {
			require.True(t, strings.HasPrefix(fmt.Sprintf("%d %s %s", w.Row, w.Column, w.Detail), c.wrong[i]), "%s: %v", name, w)
		}
	}
	lines, _ := sheet.LabourRoles.ReadCSV([]byte(head + "a,'=A,1.50,demo,\n\nb,B,2,demo,3\n"))
	require.Equal(t, "=A", lines[0].Row.Get("name"))
	require.Equal(t, "1.5", lines[0].Row.Get("rate"))
	require.Equal(t, 2, lines[0].Number)
	require.Equal(t, 4, lines[1].Number)
	require.Equal(t, "3", lines[1].Version)
}

// The database writes small numbers with an exponent; a cell that Read would refuse stays as it is.
func TestCellsOfTheDatabase(t *testing.T) {
	t.Parallel()
	number := sheet.Column{Kind: sheet.Number, High: 10}
	require.Equal(t, "0.00001", number.Canonical("1e-05"))
	require.Equal(t, "2.5", number.Canonical("2.50"))
	require.Equal(t, "11.00", number.Canonical("11.00"))
	require.Equal(t, "x", number.Canonical("x"))
	require.Equal(t, "1e2", (&sheet.Column{Kind: sheet.Code}).Canonical("1e2"))
}

// Amounts that the trail has as numbers become text with their cents, or four decimals; other columns and texts stay.
func TestMoneyOfTheTrailBecomesText(t *testing.T) {
	t.Parallel()
	for row, want := range map[string]string{
		`{"code":"a","rate":12.5,"version":3}`:                 `{"code":"a","rate":"12.50","version":3}`,
		`{"code":"a","rate": 12}`:                              `{"code":"a","rate":"12.00"}`,
		`{"rate":-0.125}`:                                      `{"rate":"-0.1250"}`,
		`{"rate":1.23456}`:                                     `{"rate":"1.23456"}`,
		`{"rate":"12.50"}`:                                     `{"rate":"12.50"}`,
		`{"name":"a \"rate\":3 note","rate":null,"version":1}`: `{"name":"a \"rate\":3 note","rate":null,"version":1}`,
		"": "",
	} {
		require.Equal(t, want, string(sheet.LabourRoles.MoneyAsText([]byte(row))))
	}
}
