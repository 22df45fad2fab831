package store

import (
	"fmt"
	"strconv"
	"strings"

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
       f.least_thickness_mm, f.greatest_thickness_mm, f.working_load_n, f.may_mix_with_bolt
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
		&f.LeastThickness, &f.GreatestThickness, &f.WorkingLoad, &f.MayMixWithBolt)
	l.snapshot.Fasteners = append(l.snapshot.Fasteners, f)
	return err
}

const selectLumber = `
SELECT i.code, i.name, b.species, b.rough_thickness_mm, b.surfaced_thickness_mm,
       b.grade, b.clear_twelfths, array_to_string(b.stock_lengths_mm, ' '), b.working_width_mm
FROM item i
JOIN lumber b ON b.code = i.code
WHERE i.retired_at IS NULL
ORDER BY i.code`

func (l *loading) lumber(rows pgx.Rows) error {
	var m catalogue.Material
	var b catalogue.Lumber
	var rough, surfaced, width float64
	var twelfths int16
	var species, grade, lengths pgtype.DriverBytes
	err := rows.Scan(&m.Code, &m.Name, &species, &rough, &surfaced, &grade, &twelfths, &lengths, &width)
	if err != nil {
		return err
	}
	b.Species, b.Grade = l.once(species), l.once(grade)
	b.RoughThickness, b.SurfacedThickness, b.WorkingWidth = measure.Length(rough), measure.Length(surfaced), measure.Length(width)
	b.ClearYield = measure.Fraction(float64(twelfths) / 12)
	if b.StockLengths, err = l.stock(lengths); err != nil {
		return fmt.Errorf("row %s, column stock_lengths_mm: %w", m.Code, err)
	}
	m.Kind, m.Unit, m.Lumber = catalogue.LumberKind, catalogue.BoardFoot, &b
	l.snapshot.Materials = append(l.snapshot.Materials, m)
	return nil
}

// Texts scanned into DriverBytes are not copied: they are good until the next row.

// stock reads stock lengths. Most lumber shares its lengths with other lumber, in the database's text too, and
// then shares the list as well: a snapshot is never written to.
func (l *loading) stock(text pgtype.DriverBytes) ([]measure.Length, error) {
	if list, ok := l.lengths[string(text)]; ok {
		return list, nil
	}
	var list []measure.Length
	for _, word := range strings.Fields(string(text)) {
		x, err := strconv.ParseFloat(word, 64)
		if err != nil {
			return nil, err
		}
		if len(list) > 0 && measure.Length(x) <= list[len(list)-1] {
			return nil, fmt.Errorf("the lengths %s do not rise", text)
		}
		list = append(list, measure.Length(x))
	}
	l.lengths[string(text)] = list
	return list, nil
}

const selectPanels = `
SELECT i.code, i.name, p.species, p.thickness_mm, p.width_mm, p.length_mm
FROM item i
JOIN panel p ON p.code = i.code
WHERE i.retired_at IS NULL
ORDER BY i.code`

func (l *loading) panel(rows pgx.Rows) error {
	m := catalogue.Material{Kind: catalogue.PanelKind, Unit: catalogue.Each, Panel: &catalogue.Panel{}}
	err := rows.Scan(&m.Code, &m.Name, &m.Panel.Species, &m.Panel.Thickness, &m.Panel.Width, &m.Panel.Length)
	l.snapshot.Materials = append(l.snapshot.Materials, m)
	return err
}

const selectGlues = `
SELECT i.code, i.name, g.spread_m2, g.clamp_hours
FROM item i
JOIN glue g ON g.code = i.code
WHERE i.retired_at IS NULL
ORDER BY i.code`

func (l *loading) glue(rows pgx.Rows) error {
	m := catalogue.Material{Kind: catalogue.GlueKind, Unit: catalogue.Litre, Glue: &catalogue.Glue{}}
	var spread float64
	err := rows.Scan(&m.Code, &m.Name, &spread, &m.Glue.ClampHours)
	m.Glue.Spread = measure.Area(spread) * measure.SquareMetre
	l.snapshot.Materials = append(l.snapshot.Materials, m)
	return err
}

const selectFinishes = `
SELECT i.code, i.name, f.system, f.coverage_m2, f.dry_hours, f.coats, f.self_heat
FROM item i
JOIN finish f ON f.code = i.code
WHERE i.retired_at IS NULL
ORDER BY i.code`

func (l *loading) finishing(rows pgx.Rows) error {
	m := catalogue.Material{Kind: catalogue.FinishKind, Unit: catalogue.Litre, Finish: &catalogue.Finish{}}
	var coverage float64
	err := rows.Scan(&m.Code, &m.Name, &m.Finish.System, &coverage, &m.Finish.DryHours, &m.Finish.Coats, &m.Finish.SelfHeat)
	m.Finish.Coverage = measure.Area(coverage) * measure.SquareMetre
	l.snapshot.Materials = append(l.snapshot.Materials, m)
	return err
}

const selectSundries = `
SELECT i.code, i.name, i.unit, s.driver, s.used, coalesce(s.finish_system, '')
FROM item i
JOIN sundry s ON s.code = i.code
WHERE i.retired_at IS NULL
ORDER BY i.code`

func (l *loading) sundry(rows pgx.Rows) error {
	m := catalogue.Material{Kind: catalogue.SundryKind, Sundry: &catalogue.Sundry{}}
	err := rows.Scan(&m.Code, &m.Name, &m.Unit, &m.Sundry.Driver, &m.Sundry.Use, &m.Sundry.Finish)
	l.snapshot.Materials = append(l.snapshot.Materials, m)
	return err
}

const selectPacks = `
SELECT p.item, trim_scale(p.size)::text
FROM item_pack p
JOIN item i ON i.code = p.item
WHERE i.retired_at IS NULL
ORDER BY p.item, p.size`

func (l *loading) pack(rows pgx.Rows) error {
	var item, size pgtype.DriverBytes
	if err := rows.Scan(&item, &size); err != nil {
		return err
	}
	q, err := money.ParseQuantity(l.once(size))
	if err != nil {
		return fmt.Errorf("row %s, column size: %w", item, err)
	}
	code := l.once(item)
	l.packs[code] = append(l.packs[code], catalogue.Pack{Size: q})
	return nil
}

// Two suppliers' prices of one day stand with the lower one last, so that it is the one found.
const selectPrices = `
SELECT p.item, trim_scale(p.size)::text, p.supplier, to_char(p.valid_from, 'YYYY-MM-DD'), p.currency, p.amount::text
FROM price p
JOIN item i ON i.code = p.item
WHERE i.retired_at IS NULL
ORDER BY p.item, p.size, p.valid_from, p.amount DESC, p.supplier`

// price puts a price into its pack. Packs were read before; prices of one item come in the order of its packs.
func (l *loading) price(rows pgx.Rows) error {
	var item, size, supplier, from, currency, amount pgtype.DriverBytes
	if err := rows.Scan(&item, &size, &supplier, &from, &currency, &amount); err != nil {
		return err
	}
	a, err := money.ParseUnitPrice(string(amount))
	if err != nil {
		return fmt.Errorf("row %s, column amount: %w", item, err)
	}
	q, err := money.ParseQuantity(l.once(size))
	if err != nil {
		return fmt.Errorf("row %s, column size: %w", item, err)
	}
	if _, ok := l.currencies[string(currency)]; !ok {
		l.currencies[string(currency)] = string(item)
	}
	packs := l.packs[string(item)]
	for i := range packs {
		if packs[i].Size.Cmp(q) == 0 {
			p := catalogue.Price{Supplier: l.once(supplier), ValidFrom: catalogue.Date(l.once(from)), Amount: a}
			packs[i].Prices = append(packs[i].Prices, p)
			return nil
		}
	}
	return fmt.Errorf("row %s: no pack of %s", item, size) // the foreign key forbids it
}
