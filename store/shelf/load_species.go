package shelf

import (
	"slices"
	"strings"

	"github.com/jackc/pgx/v5"

	"seamwright/service/catalogue"
	"seamwright/service/source"
)

const selectSpecies = `
SELECT code, name, botanical, wood_group, version
FROM species
WHERE retired_at IS NULL
ORDER BY code`

func (l *loading) species(rows pgx.Rows) error {
	var s catalogue.Species
	err := rows.Scan(&s.Code, &s.Name, &s.Botanical, &s.Group, &s.Version)
	l.snapshot.Species = append(l.snapshot.Species, s)
	return err
}

const selectSpeciesProperties = `
SELECT p.species, p.property, p.value::float8, p.source, p.verified, p.note
FROM species_property p
JOIN species s ON s.code = p.species
WHERE s.retired_at IS NULL
ORDER BY p.species, p.property`

// property puts a property into its species, which were read before in the same order.
func (l *loading) property(rows pgx.Rows) error {
	var code, name string
	var value *float64
	var p catalogue.Property
	if err := rows.Scan(&code, &name, &value, &p.Source, &p.Verified, &p.Note); err != nil {
		return err
	}
	if value != nil {
		p.Value, p.Known = *value, true
	}
	if p.Known && !source.Known(p.Source) {
		l.wrong("species_property", code+" "+name, "source", "%q is not in the list of sources", p.Source)
	}
	var into *catalogue.Property
	if at, ok := slices.BinarySearchFunc(l.snapshot.Species, code, func(s catalogue.Species, code string) int { return strings.Compare(s.Code, code) }); ok {
		into = propertyOf(&l.snapshot.Species[at], name)
	}
	if into == nil {
		l.wrong("species_property", code+" "+name, "property", "%q is not a property", name)
		return nil
	}
	*into = p
	return nil
}

// propertyOf is the one list of the names of properties in the database.
func propertyOf(s *catalogue.Species, name string) *catalogue.Property {
	switch name {
	case "tangential":
		return &s.Tangential
	case "radial":
		return &s.Radial
	case "shrinkage_tangential":
		return &s.ShrinkageTangential
	case "shrinkage_radial":
		return &s.ShrinkageRadial
	case "shrinkage_volumetric":
		return &s.ShrinkageVolumetric
	case "fibre_saturation":
		return &s.FibreSaturation
	case "gravity_green":
		return &s.GravityGreen
	case "gravity_12":
		return &s.Gravity12
	case "elasticity":
		return &s.Elasticity
	case "tension_across":
		return &s.TensionAcross
	case "ratio_tangential":
		return &s.RatioTangential
	case "ratio_radial":
		return &s.RatioRadial
	case "side_hardness":
		return &s.SideHardness
	}
	return nil
}
