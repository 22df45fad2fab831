package lists_test

import (
	"context"
	"fmt"
	"io"
	"strings"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/stretchr/testify/require"

	"seamwright/service/catalogue"
	"seamwright/service/pricelist"
	"seamwright/store"
	"seamwright/store/lists"
	"seamwright/store/storetest"
)

// listOf reads a list as a sender would write it.
func listOf(t testing.TB, csv string) *pricelist.Reader {
	t.Helper()
	r, err := pricelist.Open(strings.NewReader(csv), pricelist.Options{MediaType: "text/csv", Currency: "USD",
		Separator: ',', DecimalSign: '.'})
	require.NoError(t, err)
	return r
}

const listHead = "item,per,pack_of,price,currency\n"

// someDay is a list's usual date in these tests, today their day.
const (
	today   = catalogue.Date("2026-11-25")
	someDay = catalogue.Date("2026-11-20")
)

var noon = time.Date(2026, 11, 25, 12, 0, 0, 0, time.UTC)

// demoList is a list of the supplier of the seed.
func demoList(t testing.TB, day catalogue.Date, csv string) lists.List {
	r := listOf(t, listHead+csv)
	return lists.List{Supplier: "demo", Currency: "USD", ListDate: day, Rows: r, Understood: r.Understood, By: "night job",
		Now: noon, Today: today}
}

// loose takes the guard rails away that look at the whole list: a few rows are not the supplier's whole range.
func loose(t testing.TB, conn *pgx.Conn) {
	storetest.Exec(t, conn, `UPDATE supplier SET missing_limit = 100, held_limit = 100 WHERE code = 'demo'`)
}

func update(t testing.TB, s *store.Store, list lists.List) *lists.Update {
	t.Helper()
	u, err := s.Lists.TakeIn(context.Background(), list)
	require.NoError(t, err)
	return u
}

// priceOn is what a pack costs on a day by the database, "" when it has no price yet.
func priceOn(t testing.TB, conn *pgx.Conn, item, size string, day catalogue.Date) string {
	t.Helper()
	return storetest.One[string](t, conn, `
		SELECT coalesce((SELECT amount::text FROM price WHERE item = $1 AND size = $2::numeric AND supplier = 'demo' AND valid_from <= $3::date
		                 ORDER BY valid_from DESC LIMIT 1), '')`, item, size, string(day))
}

// brokenRows ends in an error.
type brokenRows struct {
	lists.Rows
	err error
}

func (b brokenRows) Next(row *pricelist.Row) (*pricelist.Rejection, error) {
	rejection, err := b.Rows.Next(row)
	if err == io.EOF { //nolint:errorlint // the reader's own end
		return nil, b.err
	}
	return rejection, err
}

func line(item string, size int, price string) string {
	return fmt.Sprintf("%s,pack,%d,%s,\n", item, size, price)
}
