package catalogue

// Snapshot is the whole catalogue at one revision, read-only. Lists are sorted by code (labour standards
// by order, then code).
type Snapshot struct {
	Revision int64

	Species         []Species
	Fasteners       []Fastener
	Materials       []Material
	LabourRoles     []LabourRole
	LabourStandards []LabourStandard
	ClimateProfiles []ClimateProfile
	Settings        Settings

	species   map[string]*Species
	fasteners map[string]*Fastener
	materials map[string]*Material
	roles     map[string]*LabourRole
	climates  map[string]*ClimateProfile
}

// Index prepares the look-ups by code. Call it once, before the snapshot is shared.
func (s *Snapshot) Index() *Snapshot {
	s.species = index(s.Species, func(v *Species) string { return v.Code })
	s.fasteners = index(s.Fasteners, func(v *Fastener) string { return v.Code })
	s.materials = index(s.Materials, func(v *Material) string { return v.Code })
	s.roles = index(s.LabourRoles, func(v *LabourRole) string { return v.Code })
	s.climates = index(s.ClimateProfiles, func(v *ClimateProfile) string { return v.Code })
	return s
}

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
