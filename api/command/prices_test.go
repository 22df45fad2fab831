package command

import (
	"context"
	"encoding/json"
	"fmt"
	"log/slog"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"

	"seamwright/service/catalogue"
	"seamwright/service/money"
	"seamwright/store"
	"seamwright/store/storetest"
)

// demoList is the demo supplier's whole list as it stands in the catalogue, with one price moved by a factor.
func demoList(t *testing.T, url, item string, percent int) string {
	st, err := store.Open(context.Background(), url, slog.New(slog.DiscardHandler))
	require.NoError(t, err)
	defer st.Close()
	cat, err := st.Shelf.Load(context.Background())
	require.NoError(t, err)
	var b strings.Builder
	b.WriteString("item,per,pack_of,price,currency\n")
	add := func(code string, packs []catalogue.Pack) {
		for i := range packs {
			p, ok := packs[i].PriceAsOf("2026-11-20")
			require.True(t, ok)
			amount := p.Amount.Amount()
			if code == item {
				amount = amount.MarkedUp(money.RateOf(percent))
			}
			fmt.Fprintf(&b, "%s,pack,%s,%s,USD\n", code, packs[i].Size, amount)
		}
	}
	for i := range cat.Materials {
		add(cat.Materials[i].Code, cat.Materials[i].Packs)
	}
	for i := range cat.Fasteners {
		add(cat.Fasteners[i].Code, cat.Fasteners[i].Packs)
	}
	path := filepath.Join(t.TempDir(), "demo.csv")
	require.NoError(t, os.WriteFile(path, []byte(b.String()), 0o600))
	return path
}

const moved = "lumber_maple_sugar_8_4"

func deskTotal(t *testing.T, url string) string {
	raw, err := os.ReadFile(desk)
	require.NoError(t, err)
	later := strings.Replace(string(raw), "2026-11-01", "2026-11-25", 1)
	status, out, errs := call(t, later, "estimate", "-", "--json", "--database-url", url)
	require.Equal(t, exitDone, status, errs)
	var e struct {
		Price struct {
			Total string `json:"total"`
		} `json:"price"`
	}
	require.NoError(t, json.Unmarshal([]byte(out), &e))
	return e.Price.Total
}

// The nightly job: a dry run changes nothing, the list is applied once, and sent again changes nothing.
func TestPricesCommandLoadsAList(t *testing.T) {
	url := storetest.New(t)
	list := demoList(t, url, moved, 10)
	before := deskTotal(t, url)

	status, out, errs := call(t, "", "prices", list, "--supplier", "demo", "--list-date", "2026-11-24", "--dry-run",
		"--database-url", url)
	require.Equal(t, exitDone, status, errs)
	require.Contains(t, out, "dry run: nothing was changed")
	require.Contains(t, out, "1 changed")
	require.Equal(t, before, deskTotal(t, url))

	status, out, errs = call(t, "", "prices", list, "--supplier", "demo", "--list-date", "2026-11-24", "--by", "test",
		"--database-url", url)
	require.Equal(t, exitDone, status, errs)
	require.Contains(t, out, "applied")
	require.Contains(t, out, moved)
	after := deskTotal(t, url)
	require.NotEqual(t, before, after)

	status, out, errs = call(t, "", "prices", list, "--supplier", "demo", "--list-date", "2026-11-24", "--json",
		"--database-url", url)
	require.Equal(t, exitDone, status, errs)
	require.Contains(t, out, `"repeated":true`)
	require.Equal(t, after, deskTotal(t, url))
}

// A list that lost most of its items is held whole: the job fails, so that somebody looks.
func TestPricesCommandFailsForAHeldList(t *testing.T) {
	url := storetest.New(t)
	status, out, errs := call(t, "item,price\n"+moved+",9.80\n", "prices", "-", "--supplier", "demo", "--list-date",
		"2026-11-24", "--database-url", url)
	require.Equal(t, exitRefused, status, errs)
	require.Contains(t, out, "HELD")
	require.Contains(t, out, "missing")
	require.NotContains(t, out, "--replace")

	status, out, errs = call(t, "item,price\n"+moved+",9.80\n", "prices", "-", "--supplier", "demo", "--list-date",
		"2026-11-24", "--database-url", url)
	require.Equal(t, exitRefused, status, errs)
	require.Contains(t, out, "With --replace it is read anew", "the same list says what to do")
}

// A dry run tells a script what the list would be: one that would be held is refused there, too.
func TestPricesCommandFailsForAListThatWouldBeHeld(t *testing.T) {
	url := storetest.New(t)
	path := filepath.Join(t.TempDir(), "unknown.csv")
	require.NoError(t, os.WriteFile(path, []byte("article,price\n"+strings.Repeat("nobody-knows,1\n", 50)), 0o600))
	status, out, errs := call(t, "", "prices", path, "--supplier", "demo", "--dry-run", "--database-url", url)
	require.Equal(t, exitRefused, status, errs)
	require.Contains(t, out, "Without --dry-run: HELD")
}

// The nightly unit: the list's date is the file's, so that a file that nobody renewed is the same list again and confirms
// nothing; it may be compressed, and may be in another encoding when that is said.
func TestPricesCommandTakesTheDateOfTheFile(t *testing.T) {
	url := storetest.New(t)
	path := strings.TrimSuffix(demoList(t, url, moved, 10), ".csv")
	written := time.Date(2026, 11, 20, 9, 0, 0, 0, time.UTC)
	require.NoError(t, os.Chtimes(path+".csv", written, written))
	nightly := []string{"prices", path, "--supplier", "demo", "--list-date", "file", "--charset", "windows-1252", "--database-url", url}
	status, out, errs := call(t, "", nightly...)
	require.Equal(t, exitDone, status, errs)
	require.Contains(t, out, "dated 2026-11-20")
	require.Contains(t, out, "read as csv, windows 1252")
	status, out, errs = call(t, "", nightly...)
	require.Equal(t, exitDone, status, errs)
	require.Contains(t, out, "had been taken before")

	status, _, errs = call(t, "article,price\n", "prices", "-", "--supplier", "demo", "--list-date", "file", "--database-url", url)
	require.Equal(t, exitUsage, status)
	require.Contains(t, errs, "standard input")
}

// A workbook is a list like any other; its ending says what it is.
func TestPricesCommandReadsAWorkbook(t *testing.T) {
	url := storetest.New(t)
	raw, err := os.ReadFile(demoList(t, url, moved, 10))
	require.NoError(t, err)
	f := excelize.NewFile()
	defer func() { require.NoError(t, f.Close()) }()
	_, err = f.NewSheet("Prices")
	require.NoError(t, err)
	for i, line := range strings.Split(strings.TrimSpace(string(raw)), "\n") {
		for j, cell := range strings.Split(line, ",") {
			name, err := excelize.CoordinatesToCellName(j+1, i+1)
			require.NoError(t, err)
			if x, err := strconv.ParseFloat(cell, 64); err == nil {
				require.NoError(t, f.SetCellValue("Prices", name, x))
			} else {
				require.NoError(t, f.SetCellValue("Prices", name, cell))
			}
		}
	}
	path := filepath.Join(t.TempDir(), "demo")
	require.NoError(t, f.SaveAs(path+".xlsx"))
	before := deskTotal(t, url)
	status, out, errs := call(t, "", "prices", path, "--supplier", "demo", "--list-date", "2026-11-24", "--sheet", "prices", "--database-url", url)
	require.Equal(t, exitDone, status, errs)
	require.Contains(t, out, `read as xlsx, utf-8, sheet "Prices"`)
	require.Contains(t, out, "1 changed")
	require.Contains(t, out, "0 held, 0 rejected; 0 prices")
	require.NotEqual(t, before, deskTotal(t, url))

	status, _, errs = call(t, "", "prices", path+".xlsx", "--supplier", "demo", "--list-date", "2026-11-25", "--database-url", url)
	require.Equal(t, exitRefused, status)
	require.Contains(t, errs, "The sheet “Sheet1” is empty")
	status, _, errs = call(t, "", "prices", path+".xlsx", "--supplier", "demo", "--format", "csv", "--database-url", url)
	require.Equal(t, exitRefused, status)
	require.Contains(t, errs, "send a workbook as")
}

func TestPricesCommandSaysWhatIsWrong(t *testing.T) {
	url := storetest.New(t)
	for name, c := range map[string]struct {
		stdin  string
		args   []string
		status int
		says   string
	}{
		"no supplier named": {"item,price\n", []string{"prices", "-"}, exitUsage, "--supplier"},
		"unknown supplier": {"item,price\nglue,1\n", []string{"prices", "-", "--supplier", "nobody"}, exitRefused,
			"nobody"},
		"no such file":    {"", []string{"prices", "none.csv", "--supplier", "demo"}, exitUsage, "none.csv"},
		"no price column": {"item,cost\nglue,1\n", []string{"prices", "-", "--supplier", "demo"}, exitRefused, "price"},
		"a day that is none": {"item,price\nglue,1\n", []string{"prices", "-", "--supplier", "demo", "--list-date",
			"2026-02-31"}, exitRefused, "list_date"},
		"an option misplaced": {"", []string{"estimate", desk, "--supplier", "demo"}, exitUsage, "--supplier is for prices"},
	} {
		t.Run(name, func(t *testing.T) {
			status, out, errs := call(t, c.stdin, append(c.args, "--database-url", url)...)
			require.Equal(t, c.status, status, "%s%s", out, errs)
			require.Contains(t, errs, c.says)
			first, rest, _ := strings.Cut(errs, "\n")
			require.False(t, strings.HasPrefix(rest, "  : "), "what has no place in the request is said once: %s\n%s", first,
				rest)
		})
	}
}
