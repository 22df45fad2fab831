package catalogue

import (
	"cmp"
	"maps"
	"slices"
	"strings"

	"seamwright/service/measure"
)

// Snapshot is the whole catalogue at one revision, read-only. Lists are sorted by code (labour standards
// by order, then code).
type Snapshot struct {
	Revision   int64
	PricesFrom Date // first day that can be priced; prices that were over before are not in the packs
	BuiltIn    bool `json:",omitempty"` // comes with the program, as there is no database: prices are demo data

	Species         []Species
	Fasteners       []Fastener
	Materials       []Material
	LabourRoles     []LabourRole
	LabourStandards []LabourStandard
	ClimateProfiles []ClimateProfile
	Places          []Place
	TaxRegions      []TaxRegion
	Settings        Settings
	ListDays        map[string][]Date    // by supplier: days on which its lists took effect, in order
	Silences        map[string][]Silence // by item
	SettingVersions map[string]int64     // by key; counts the changes of each setting

	species   map[string]*Species
	materials map[string]*Material
	roles     map[string]*LabourRole
	climates  map[string]*ClimateProfile
	regions   map[string]*TaxRegion

	lumber   map[string][]*Material // by species, thinnest first
	panels   map[string][]*Material // by species, thinnest, narrowest and shortest first
	finishes map[string]*Material   // by system
	glues    []*Material
	sundries []*Material
	shelves
	views map[SeriesWish]*view // those that have less hardware
}

// shelves are the look-ups of hardware.
type shelves struct {
	fasteners map[string]*Fastener
	hardware  map[FastenerKind][]*Fastener
}

// Index prepares the look-ups by code. Call it once, before the snapshot is shared.
func (s *Snapshot) Index() *Snapshot {
	s.species = index(s.Species, func(v *Species) string { return v.Code })
	s.materials = index(s.Materials, func(v *Material) string { return v.Code })
	s.roles = index(s.LabourRoles, func(v *LabourRole) string { return v.Code })
	s.climates = index(s.ClimateProfiles, func(v *ClimateProfile) string { return v.Code })
	s.regions = index(s.TaxRegions, func(v *TaxRegion) string { return v.Code })
	s.indexMaterials()
	s.IndexHardware()
	return s
}

// IndexHardware prepares the look-ups of hardware, as Index does.
func (s *Snapshot) IndexHardware() {
	s.shelves = shelvesOf(s.Fasteners)
	s.indexSeries()
}

func shelvesOf(list []Fastener) shelves {
	h := shelves{index(list, func(v *Fastener) string { return v.Code }), make(map[FastenerKind][]*Fastener)}
	for i := range list {
		f := &list[i]
		h.hardware[f.Kind] = append(h.hardware[f.Kind], f)
	}
	return h
}

func (s *Snapshot) indexMaterials() {
	s.lumber = make(map[string][]*Material)
	s.panels = make(map[string][]*Material)
	s.finishes = make(map[string]*Material)
	s.glues, s.sundries = nil, nil
	for i := range s.Materials {
		m := &s.Materials[i]
		switch {
		case m.Lumber != nil:
			s.lumber[m.Lumber.Species] = append(s.lumber[m.Lumber.Species], m)
		case m.Panel != nil:
			s.panels[m.Panel.Species] = append(s.panels[m.Panel.Species], m)
		case m.Glue != nil:
			s.glues = append(s.glues, m)
		case m.Finish != nil && s.finishes[m.Finish.System] == nil:
			s.finishes[m.Finish.System] = m
		case m.Sundry != nil:
			s.sundries = append(s.sundries, m)
		}
	}
	for _, list := range s.lumber {
		sortByThickness(list)
	}
	for _, list := range s.panels {
		slices.SortStableFunc(list, func(a, b *Material) int {
			p, q := a.Panel, b.Panel
			return cmp.Or(cmp.Compare(p.Thickness, q.Thickness), cmp.Compare(p.Width, q.Width), cmp.Compare(p.Length, q.Length))
		})
	}
}

// sortByThickness sorts lumber, thinnest first; what is as thick keeps its order. Lists may be long, but there are few
// thicknesses.
func sortByThickness(list []*Material) {
	byThickness := make(map[measure.Length][]*Material)
	for _, m := range list {
		byThickness[m.Lumber.RoughThickness] = append(byThickness[m.Lumber.RoughThickness], m)
	}
	list = list[:0]
	for _, thickness := range slices.Sorted(maps.Keys(byThickness)) {
		list = append(list, byThickness[thickness]...)
	}
}

// LumberOf returns the lumber of a species, thinnest first.
func (s *Snapshot) LumberOf(species string) []*Material { return s.lumber[species] }

// PanelsOf returns the ready-made panels of a species, by thickness, width and length.
func (s *Snapshot) PanelsOf(species string) []*Material { return s.panels[species] }

// FinishOf returns the finish of a system (the first by code), or nil.
func (s *Snapshot) FinishOf(system string) *Material { return s.finishes[system] }

// FinishSystems returns the systems on sale, sorted.
func (s *Snapshot) FinishSystems() []string {
	out := make([]string, 0, len(s.finishes))
	for system := range s.finishes {
		out = append(out, system)
	}
	slices.Sort(out)
	return out
}

// Glues returns the glues, by code.
func (s *Snapshot) Glues() []*Material { return s.glues }

// Sundries returns the sundries, by code.
func (s *Snapshot) Sundries() []*Material { return s.sundries }

// FastenersOf returns the fasteners of a kind, by code.
func (s *Snapshot) FastenersOf(kind FastenerKind) []*Fastener { return s.hardware[kind] }

func index[T any](list []T, code func(*T) string) map[string]*T {
	m := make(map[string]*T, len(list))
	for i := range list {
		m[code(&list[i])] = &list[i]
	}
	return m
}

// SpeciesByCode returns the species, or nil.
func (s *Snapshot) SpeciesByCode(code string) *Species { return s.species[code] }

// FastenerByCode returns the fastener, or nil.
func (s *Snapshot) FastenerByCode(code string) *Fastener { return s.fasteners[code] }

// MaterialByCode returns the material, or nil.
func (s *Snapshot) MaterialByCode(code string) *Material { return s.materials[code] }

// RoleByCode returns the labour role, or nil.
func (s *Snapshot) RoleByCode(code string) *LabourRole { return s.roles[code] }

// ClimateByCode returns the climate profile, or nil.
func (s *Snapshot) ClimateByCode(code string) *ClimateProfile { return s.climates[code] }

// TaxRegionByCode returns the tax region, or nil.
func (s *Snapshot) TaxRegionByCode(code string) *TaxRegion { return s.regions[code] }

// PlaceNamed returns the place of a code or a name, or of the first part of a name ("Chicago" of "Chicago, IL") that no
// other place has; nil when there is none.
func (s *Snapshot) PlaceNamed(name string) *Place {
	var town *Place
	for i := range s.Places {
		p := &s.Places[i]
		if p.Code == name || strings.EqualFold(p.Name, name) {
			return p
		}
		if first, _, _ := strings.Cut(p.Name, ","); strings.EqualFold(first, name) {
			if town != nil {
				return nil
			}
			town = p
		}
	}
	return town
}
