package api

import (
	"fmt"

	"seamwright/service/catalogue"
)

// catalogueRoutes adds the reading of the catalogue. A new list is added here and in the spec.
func (s *Server) catalogueRoutes() {
	serve(s, collection[catalogue.Species]{
		path: "species", one: "species", name: "code",
		items: func(cat *catalogue.Snapshot) ([]catalogue.Species, error) { return cat.Species, nil },
		code:  func(v *catalogue.Species) string { return v.Code },
		write: (*writer).species,
	})
	fasteners := collection[catalogue.Fastener]{
		path: "fasteners", one: "fastener", name: "code", units: true,
		items: func(cat *catalogue.Snapshot) ([]catalogue.Fastener, error) { return cat.Fasteners, nil },
		code:  func(v *catalogue.Fastener) string { return v.Code },
		write: (*writer).fastener,
	}
	serve(s, fasteners)
	servePrices(s, fasteners, func(v *catalogue.Fastener) ([]catalogue.Pack, catalogue.Unit) { return v.Packs, catalogue.Each })
	materials := collection[catalogue.Material]{
		path: "materials", one: "material", name: "code", units: true,
		items: func(cat *catalogue.Snapshot) ([]catalogue.Material, error) { return cat.Materials, nil },
		code:  func(v *catalogue.Material) string { return v.Code },
		write: (*writer).material,
	}
	serve(s, materials)
	servePrices(s, materials, func(v *catalogue.Material) ([]catalogue.Pack, catalogue.Unit) { return v.Packs, v.Unit })
	serve(s, collection[catalogue.LabourStandard]{
		path: "labour-standards", one: "labour standard", name: "code",
		items: func(cat *catalogue.Snapshot) ([]catalogue.LabourStandard, error) { return cat.LabourStandards, nil },
		code:  func(v *catalogue.LabourStandard) string { return v.Code },
		key:   func(v *catalogue.LabourStandard) string { return fmt.Sprintf("%09d %s", v.Order, v.Code) },
		write: (*writer).labourStandard,
	})
	serve(s, collection[catalogue.LabourRole]{
		path: "labour-roles", one: "labour role", name: "code",
		items: func(cat *catalogue.Snapshot) ([]catalogue.LabourRole, error) { return cat.LabourRoles, nil },
		code:  func(v *catalogue.LabourRole) string { return v.Code },
		write: (*writer).labourRole,
	})
	serve(s, collection[catalogue.ClimateProfile]{
		path: "climate-profiles", one: "climate profile", name: "code", units: true,
		items: func(cat *catalogue.Snapshot) ([]catalogue.ClimateProfile, error) { return cat.ClimateProfiles, nil },
		code:  func(v *catalogue.ClimateProfile) string { return v.Code },
		write: (*writer).climateProfile,
	})
	serve(s, collection[settingNow]{
		path: "settings", one: "setting", name: "key",
		items: settingsNow,
		code:  func(v *settingNow) string { return v.Key },
		write: (*writer).setting,
	})
}
