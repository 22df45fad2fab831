package store

import (
	"cmp"
	"fmt"
	"slices"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgtype"

	"seamwright/service/catalogue"
	"seamwright/service/measure"
	"seamwright/service/money"
)

const selectFasteners = `
SELECT i.code, i.name, i.kind,
       f.width_mm, f.length_mm, f.thickness_mm,
       f.thread_diameter_mm, f.head_diameter_mm, f.washer_diameter_mm, f.bore_diameter_mm, f.penetration_mm,
       f.bolt_diameter_mm, f.recess_diameter_mm, f.recess_depth_mm, f.recess_distance_mm, f.bearing_diameter_mm,
       f.least_thickness_mm, f.greatest_thickness_mm, f.working_load_n, f.may_mix_with_bolt, i.version
FROM item i
JOIN fastener f ON f.code = i.code
WHERE i.retired_at IS NULL
ORDER BY i.code`

func (l *loading) fastener(rows pgx.Rows) error {
	var f catalogue.Fastener
	err := rows.Scan(&f.Code, &f.Name, &f.Kind,
		&f.Width, &f.Length, &f.Thickness,
		&f.ThreadDiameter, &f.HeadDiameter, &f.WasherDiameter, &f.BoreDiameter, &f.Penetration,
		&f.BoltDiameter, &f.RecessDiameter, &f.RecessDepth, &f.RecessDistance, &f.BearingDiameter,
		&f.LeastThickness, &f.GreatestThickness, &f.WorkingLoad, &f.MayMixWithBolt, &f.Version)
	l.snapshot.Fasteners = append(l.snapshot.Fasteners, f)
	return err
}

// Lumber can be many as well. Its lengths are of a domain, which the driver would have sent and read as text.
const selectLumber = `
SELECT i.code, i.name, b.species, b.rough_thickness_mm::float8, b.surfaced_thickness_mm::float8,
       b.grade, b.clear_twelfths, b.stock_lengths_mm, b.working_width_mm::float8, i.version
FROM item i
JOIN lumber b ON b.code = i.code
WHERE i.retired_at IS NULL`

// boardRow is a row of lumber as the table has it. One serves all rows.
type boardRow struct {
	rough, surfaced, width float64
	twelfths               int16
	species, grade         pgtype.DriverBytes // good until the next row
}

func (l *loading) lumber(rows pgx.Rows) error {
	l.snapshot.Materials = append(l.snapshot.Materials, catalogue.Material{Kind: catalogue.LumberKind, Unit: catalogue.BoardFoot})
	m := &l.snapshot.Materials[len(l.snapshot.Materials)-1]
	r := &l.board
	err := rows.Scan(&m.Code, &m.Name, &r.species, &r.rough, &r.surfaced, &r.grade, &r.twelfths, nil, &r.width, &m.Version)
	if err != nil {
		return err
	}
	lengths, err := l.stock(rows, 7)
	if err != nil {
		return fmt.Errorf("row %s, column stock_lengths_mm: %w", m.Code, err)
	}
	m.Lumber = &catalogue.Lumber{
		Species: l.once(r.species), Grade: l.once(r.grade),
		RoughThickness: measure.Length(r.rough), SurfacedThickness: measure.Length(r.surfaced),
		ClearYield: measure.Fraction(float64(r.twelfths) / 12), StockLengths: lengths, WorkingWidth: measure.Length(r.width),
	}
	return nil
}

// stock reads stock lengths. Most lumber shares its lengths with other lumber, and then shares the list as well:
// a snapshot is never written to.
func (l *loading) stock(rows pgx.Rows, column int) ([]measure.Length, error) {
	raw, form := rows.RawValues()[column], rows.FieldDescriptions()[column]
	if list, ok := l.lengths[string(raw)]; ok {
		return list, nil
	}
	var list []measure.Length
	err := rows.Conn().TypeMap().Scan(form.DataTypeOID, form.Format, raw, &list)
	if err != nil {
		return nil, err
	}
	for i := 1; i < len(list); i++ {
		if list[i] <= list[i-1] {
			return nil, fmt.Errorf("the lengths %v do not rise", list)
		}
	}
	l.lengths[string(raw)] = list
	return list, nil
}

const selectPanels = `
SELECT i.code, i.name, p.species, p.thickness_mm, p.width_mm, p.length_mm, i.version
FROM item i
JOIN panel p ON p.code = i.code
WHERE i.retired_at IS NULL
ORDER BY i.code`

func (l *loading) panel(rows pgx.Rows) error {
	m := catalogue.Material{Kind: catalogue.PanelKind, Unit: catalogue.Each, Panel: &catalogue.Panel{}}
	err := rows.Scan(&m.Code, &m.Name, &m.Panel.Species, &m.Panel.Thickness, &m.Panel.Width, &m.Panel.Length, &m.Version)
	l.snapshot.Materials = append(l.snapshot.Materials, m)
	return err
}

const selectGlues = `
SELECT i.code, i.name, g.spread_m2, g.clamp_hours, i.version
FROM item i
JOIN glue g ON g.code = i.code
WHERE i.retired_at IS NULL
ORDER BY i.code`

func (l *loading) glue(rows pgx.Rows) error {
	m := catalogue.Material{Kind: catalogue.GlueKind, Unit: catalogue.Litre, Glue: &catalogue.Glue{}}
	var spread float64
	err := rows.Scan(&m.Code, &m.Name, &spread, &m.Glue.ClampHours, &m.Version)
	m.Glue.Spread = measure.Area(spread) * measure.SquareMetre
	l.snapshot.Materials = append(l.snapshot.Materials, m)
	return err
}

const selectFinishes = `
SELECT i.code, i.name, f.system, f.coverage_m2, f.dry_hours, f.coats, f.self_heat, i.version
FROM item i
JOIN finish f ON f.code = i.code
WHERE i.retired_at IS NULL
ORDER BY i.code`

func (l *loading) finishing(rows pgx.Rows) error {
	m := catalogue.Material{Kind: catalogue.FinishKind, Unit: catalogue.Litre, Finish: &catalogue.Finish{}}
	var coverage float64
	err := rows.Scan(&m.Code, &m.Name, &m.Finish.System, &coverage, &m.Finish.DryHours, &m.Finish.Coats, &m.Finish.SelfHeat, &m.Version)
	m.Finish.Coverage = measure.Area(coverage) * measure.SquareMetre
	l.snapshot.Materials = append(l.snapshot.Materials, m)
	return err
}

const selectSundries = `
SELECT i.code, i.name, i.unit, s.driver, s.used, coalesce(s.finish_system, ''), i.version
FROM item i
JOIN sundry s ON s.code = i.code
WHERE i.retired_at IS NULL
ORDER BY i.code`

func (l *loading) sundry(rows pgx.Rows) error {
	m := catalogue.Material{Kind: catalogue.SundryKind, Sundry: &catalogue.Sundry{}}
	err := rows.Scan(&m.Code, &m.Name, &m.Unit, &m.Sundry.Driver, &m.Sundry.Use, &m.Sundry.Finish, &m.Version)
	l.snapshot.Materials = append(l.snapshot.Materials, m)
	return err
}

// Packs and prices are many: they are read as they lie in the table, as texts, straight from the driver's buffer,
// and sorted by whom they belong to.
const selectPacks = `
SELECT item::text, size::text
FROM item_pack
WHERE retired_at IS NULL AND item NOT IN (SELECT code FROM item WHERE retired_at IS NOT NULL)`

func (l *loading) pack(rows pgx.Rows) error {
	raw := rows.RawValues()
	size, err := l.quantity(raw[1])
	if err != nil {
		return fmt.Errorf("row %s, column size: %w", raw[0], err)
	}
	packs := l.packs.add(raw[0])
	at, _ := findPack(*packs, size)
	*packs = slices.Insert(*packs, at, catalogue.Pack{Size: size})
	return nil
}

// pricesFrom is the first day that can be priced. The extra day is for shops whose day is still yesterday's.
const pricesFrom = `coalesce((
  SELECT (now() AT TIME ZONE 'UTC')::date - 1 - value::int FROM setting WHERE key = 'price_history_days' AND value ~ '^[0-9]{1,5}$'), '2000-01-01')`

const selectPricesFrom = `SELECT ` + pricesFrom + `::text`

// selectPrices leaves out prices that were over before the first day that can be priced.
const selectPrices = `
WITH first AS MATERIALIZED (SELECT ` + pricesFrom + ` AS day)
SELECT item::text, size::text, supplier::text, valid_from::text, currency, amount::text
FROM price p, first
WHERE item NOT IN (SELECT code FROM item WHERE retired_at IS NOT NULL)
  AND (item, size) NOT IN (SELECT item, size FROM item_pack WHERE retired_at IS NOT NULL)
  AND (valid_from >= first.day OR NOT EXISTS (
    SELECT FROM price n
    WHERE n.item = p.item AND n.size = p.size AND n.supplier = p.supplier AND n.valid_from > p.valid_from AND n.valid_from <= first.day))`

// price puts a price into its pack. Packs were read before.
func (l *loading) price(rows pgx.Rows) error {
	raw := rows.RawValues()
	size, err := l.quantity(raw[1])
	if err != nil {
		return fmt.Errorf("row %s, column size: %w", raw[0], err)
	}
	amount, err := money.ParseUnitPrice(string(raw[5]))
	if err != nil {
		return fmt.Errorf("row %s, column amount: %w", raw[0], err)
	}
	if first, ok := l.currencies[string(raw[4])]; !ok || string(raw[0]) < first {
		l.currencies[string(raw[4])] = string(raw[0])
	}
	packs := l.packs.of(string(raw[0]))
	at, ok := findPack(packs, size)
	if !ok {
		return fmt.Errorf("row %s: no pack of %s", raw[0], raw[1]) // the foreign key forbids it
	}
	p := catalogue.Price{Supplier: l.once(raw[2]), ValidFrom: catalogue.Date(l.once(raw[3])), Amount: amount}
	prices := packs[at].Prices
	if prices == nil {
		prices = make([]catalogue.Price, 0, 2) // most have had a price before
	}
	in, _ := slices.BinarySearchFunc(prices, p, comparePrices)
	packs[at].Prices = slices.Insert(prices, in, p)
	return nil
}

// quantity reads the size of a pack; there are few different ones.
func (l *loading) quantity(raw []byte) (money.Quantity, error) {
	if q, ok := l.sizes[string(raw)]; ok {
		return q, nil
	}
	q, err := money.ParseQuantity(string(raw))
	l.sizes[string(raw)] = q
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
