package shelf

import (
	"cmp"
	"fmt"
	"slices"
	"time"

	"github.com/jackc/pgx/v5"

	"seamwright/service/catalogue"
	"seamwright/service/money"
	"seamwright/store/codetable"
)

// loadedPrices has what items are sold in and for how much, while a catalogue is read. The texts of its own that come
// again and again are kept once.
type loadedPrices struct {
	from     catalogue.Date
	items    codetable.Table
	packs    [][]catalogue.Pack // by the numbers of items
	at       codetable.Cursor
	listDays map[string][]catalogue.Date
	silences map[string][]catalogue.Silence

	soldIn slab[catalogue.Pack]
	prices slab[catalogue.Price]

	currencies map[string]string // and one item that has a price in it
	texts      texts
	sizes      map[string]money.Quantity
	days       map[string]catalogue.Date // by what the database sends
}

func newLoadedPrices() *loadedPrices {
	t := &loadedPrices{
		listDays:   make(map[string][]catalogue.Date),
		silences:   make(map[string][]catalogue.Silence),
		currencies: make(map[string]string),
		texts:      make(texts),
		sizes:      make(map[string]money.Quantity),
		days:       make(map[string]catalogue.Date),
	}
	t.at.Table = &t.items
	return t
}

// pricesFrom is the first day that can be priced. The extra day is for shops whose day is still yesterday's.
const pricesFrom = `coalesce((
  SELECT (now() AT TIME ZONE 'UTC')::date - 1 - value::int FROM setting WHERE key = 'price_history_days' AND value ~ '^[0-9]{1,5}$'), '2000-01-01')`

const selectPricesFrom = `SELECT ` + pricesFrom +
	`::text, (SELECT greatest(reltuples, 0)::int FROM pg_class WHERE oid = 'item_pack'::regclass)`

// start also makes room for about as many packs as there are.
func (t *loadedPrices) start(rows pgx.Rows) error {
	var packs int
	err := rows.Scan(&t.from, &packs)
	t.items.Reserve(packs)
	t.packs = make([][]catalogue.Pack, 0, packs)
	return err
}

// Packs and prices are read as they lie in the table, straight from the driver's buffer.
const selectPacks = `
SELECT item::text, size::text
FROM item_pack
WHERE retired_at IS NULL AND item NOT IN (SELECT code FROM item WHERE retired_at IS NOT NULL)`

func (t *loadedPrices) pack(rows pgx.Rows) error {
	raw := rows.RawValues()
	size, err := t.quantity(raw[1])
	if err != nil {
		return fmt.Errorf("row %s, column size: %w", raw[0], err)
	}
	n := t.items.Add(raw[0])
	if n == len(t.packs) {
		t.packs = append(t.packs, nil)
	}
	if t.packs[n] == nil {
		t.packs[n] = t.soldIn.list(1)
	}
	at, _ := findPack(t.packs[n], size)
	t.packs[n] = slices.Insert(t.packs[n], at, catalogue.Pack{Size: size})
	return nil
}

// packsOf returns the packs of an item, which has none if it is retired.
func (t *loadedPrices) packsOf(item string) []catalogue.Pack {
	if n := t.at.FindText(item); n >= 0 {
		return t.packs[n]
	}
	return nil
}

// selectPrices leaves out prices that were over before the first day that can be priced.
const selectPrices = `
WITH first AS MATERIALIZED (SELECT ` + pricesFrom + ` AS day)
SELECT item::text, size::text, supplier::text, valid_from, currency, amount::text
FROM price p
WHERE valid_from >= (SELECT day FROM first) OR NOT EXISTS (
  SELECT FROM price n
  WHERE n.item = p.item AND n.size = p.size AND n.supplier = p.supplier AND n.valid_from > p.valid_from AND n.valid_from <= (SELECT day FROM first))`

// price puts a price into its pack. Packs were read before.
func (t *loadedPrices) price(rows pgx.Rows) error {
	raw := rows.RawValues()
	size, err := t.quantity(raw[1])
	if err != nil {
		return fmt.Errorf("row %s, column size: %w", raw[0], err)
	}
	packs := t.packsOf(string(raw[0]))
	at, ok := findPack(packs, size)
	if !ok {
		return nil // the item or the pack is retired
	}
	day, err := t.day(rows, 3)
	if err != nil {
		return fmt.Errorf("row %s, column valid_from: %w", raw[0], err)
	}
	amount, err := money.ParseUnitPrice(string(raw[5]))
	if err != nil {
		return fmt.Errorf("row %s, column amount: %w", raw[0], err)
	}
	if first, ok := t.currencies[string(raw[4])]; !ok || string(raw[0]) < first {
		t.currencies[string(raw[4])] = string(raw[0])
	}
	pack := &packs[at]
	if pack.Prices == nil {
		pack.Prices = t.prices.list(2) // most have had a price before
	}
	p := catalogue.Price{Supplier: t.texts.once(raw[2]), ValidFrom: day, Amount: amount}
	in, _ := slices.BinarySearchFunc(pack.Prices, p, comparePrices)
	pack.Prices = slices.Insert(pack.Prices, in, p)
	return nil
}

// day reads a date; there are few different ones.
func (t *loadedPrices) day(rows pgx.Rows, column int) (catalogue.Date, error) {
	raw, form := rows.RawValues()[column], rows.FieldDescriptions()[column]
	if day, ok := t.days[string(raw)]; ok {
		return day, nil
	}
	var date time.Time
	if err := rows.Conn().TypeMap().Scan(form.DataTypeOID, form.Format, raw, &date); err != nil {
		return "", err
	}
	day := catalogue.Date(date.Format(time.DateOnly))
	t.days[string(raw)] = day
	return day, nil
}

// quantity reads the size of a pack; there are few different ones.
func (t *loadedPrices) quantity(raw []byte) (money.Quantity, error) {
	if q, ok := t.sizes[string(raw)]; ok {
		return q, nil
	}
	q, err := money.ParseQuantity(string(raw))
	t.sizes[string(raw)] = q
	return q, err
}

func findPack(packs []catalogue.Pack, size money.Quantity) (int, bool) {
	return slices.BinarySearchFunc(packs, size, func(p catalogue.Pack, q money.Quantity) int { return p.Size.Cmp(q) })
}

// comparePrices sorts by day. Two suppliers' prices of one day stand with the lower one last, so that it is the
// one found.
func comparePrices(a, b catalogue.Price) int {
	return cmp.Or(cmp.Compare(a.ValidFrom, b.ValidFrom), b.Amount.Cmp(a.Amount), cmp.Compare(a.Supplier, b.Supplier))
}
