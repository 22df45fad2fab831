package shelf

import (
	"fmt"
	"strconv"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgtype"

	"seamwright/service/catalogue"
	"seamwright/service/measure"
)

// Items may be many. They and the tables of their kinds are read as they lie, and put together here: the database would
// take longer for joining and sorting them.
const selectItems = `SELECT code::text, kind, name::text, unit, version::text FROM item WHERE retired_at IS NULL`

func (l *loading) item(rows pgx.Rows) error {
	raw := rows.RawValues() // good until the next row, as everywhere here
	version, err := strconv.ParseInt(string(raw[4]), 10, 64)
	if err != nil {
		return fmt.Errorf("row %s, column version: %w", raw[0], err)
	}
	l.items.add(raw[0], catalogue.Material{
		Name: string(raw[2]), Kind: catalogue.MaterialKind(l.texts.once(raw[1])), Unit: catalogue.Unit(l.texts.once(raw[3])), Version: version,
	})
	return nil
}

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

// Measures are of a domain, which the driver would have sent and read as text.
const selectLumber = `
SELECT code, species, rough_thickness_mm::float8, surfaced_thickness_mm::float8, grade, clear_twelfths, working_width_mm::float8, stock_lengths_mm
FROM lumber`

func (l *loading) lumber(rows pgx.Rows) error {
	r := &l.board
	if err := r.scan(rows); err != nil {
		return err
	}
	m := l.items.material(r.code)
	if m == nil {
		return nil
	}
	lengths, err := l.stock(rows, len(r.into)-1)
	if err != nil {
		return fmt.Errorf("row %s, column stock_lengths_mm: %w", r.code, err)
	}
	m.Lumber = l.boards.one()
	*m.Lumber = catalogue.Lumber{
		Species: l.texts.once(r.species), Grade: l.texts.once(r.grade),
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

const selectPanels = `SELECT code, species, thickness_mm, width_mm, length_mm FROM panel`

func (l *loading) panel(rows pgx.Rows) error {
	var code pgtype.DriverBytes
	p := &catalogue.Panel{}
	err := rows.Scan(&code, &p.Species, &p.Thickness, &p.Width, &p.Length)
	if m := l.items.material(code); m != nil {
		m.Panel = p
	}
	return err
}

const selectGlues = `SELECT code, spread_m2, clamp_hours FROM glue`

func (l *loading) glue(rows pgx.Rows) error {
	var code pgtype.DriverBytes
	var spread float64
	g := &catalogue.Glue{}
	err := rows.Scan(&code, &spread, &g.ClampHours)
	g.Spread = measure.Area(spread) * measure.SquareMetre
	if m := l.items.material(code); m != nil {
		m.Glue = g
	}
	return err
}

const selectFinishes = `SELECT code, system, coverage_m2, dry_hours, coats, self_heat, coalesce(cure_days, 0) FROM finish`

func (l *loading) finishing(rows pgx.Rows) error {
	var code pgtype.DriverBytes
	var coverage float64
	f := &catalogue.Finish{}
	err := rows.Scan(&code, &f.System, &coverage, &f.DryHours, &f.Coats, &f.SelfHeat, &f.CureDays)
	f.Coverage = measure.Area(coverage) * measure.SquareMetre
	if m := l.items.material(code); m != nil {
		m.Finish = f
	}
	return err
}

const selectSundries = `SELECT code, driver, used, coalesce(finish_system, ''), by_use FROM sundry`

func (l *loading) sundry(rows pgx.Rows) error {
	var code pgtype.DriverBytes
	s := &catalogue.Sundry{}
	err := rows.Scan(&code, &s.Driver, &s.Use, &s.Finish, &s.ByUse)
	if m := l.items.material(code); m != nil {
		m.Sundry = s
	}
	return err
}
