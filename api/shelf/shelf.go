// Package shelf shows and keeps the catalogue: its lists, prices and settings, the letterhead, export and import, the trail of
// changes.
package shelf

import (
	"fmt"

	"golang.org/x/sync/semaphore"

	"seamwright/api/web"
	"seamwright/service/catalogue"
	"seamwright/service/sheet"
)

// Open adds the operations about the catalogue.
func Open(w *web.Server) {
	s := &room{w, semaphore.NewWeighted(mostImports), semaphore.NewWeighted(mostExports)}
	s.lists()
	s.Serve("GET /v1/audit-entries", s.listAuditEntries)
	s.Serve("GET /v1/exports/:file", s.getExport, web.Way{Long: true})
	s.Serve("GET /v1/additions/:file", s.getAdditions)
	s.Serve("PUT /v1/imports/:part", s.putImport, web.Way{Largest: largestImport, Within: s.importing})
	s.logoRoutes()
}

// lists adds the reading and the keeping of the catalogue's lists. A new list is added here and in the spec.
func (s *room) lists() {
	serve(s, collection[catalogue.Species]{
		keeping: keepingOf(sheet.Species),
		items:   func(cat *catalogue.Snapshot) ([]catalogue.Species, error) { return cat.Species, nil },
		code:    func(v *catalogue.Species) string { return v.Code },
		version: func(v *catalogue.Species) int64 { return v.Version },
	})
	fasteners := serve(s, collection[catalogue.Fastener]{
		keeping: keepingOf(sheet.Fasteners),
		items:   func(cat *catalogue.Snapshot) ([]catalogue.Fastener, error) { return cat.Fasteners, nil },
		code:    func(v *catalogue.Fastener) string { return v.Code },
		version: func(v *catalogue.Fastener) int64 { return v.Version },
	})
	servePrices(s, fasteners, func(v *catalogue.Fastener) ([]catalogue.Pack, catalogue.Unit) {
		return v.Packs, catalogue.Each
	})
	materials := serve(s, collection[catalogue.Material]{
		keeping: keepingOf(sheet.Materials),
		items:   func(cat *catalogue.Snapshot) ([]catalogue.Material, error) { return cat.Materials, nil },
		code:    func(v *catalogue.Material) string { return v.Code },
		version: func(v *catalogue.Material) int64 { return v.Version },
	})
	servePrices(s, materials, func(v *catalogue.Material) ([]catalogue.Pack, catalogue.Unit) { return v.Packs, v.Unit })
	serve(s, collection[catalogue.LabourStandard]{
		keeping: keepingOf(sheet.LabourStandards),
		items:   func(cat *catalogue.Snapshot) ([]catalogue.LabourStandard, error) { return cat.LabourStandards, nil },
		code:    func(v *catalogue.LabourStandard) string { return v.Code },
		version: func(v *catalogue.LabourStandard) int64 { return v.Version },
		key:     func(v *catalogue.LabourStandard) string { return fmt.Sprintf("%09d %s", v.Order, v.Code) },
	})
	serve(s, collection[catalogue.LabourRole]{
		keeping: keepingOf(sheet.LabourRoles),
		items:   func(cat *catalogue.Snapshot) ([]catalogue.LabourRole, error) { return cat.LabourRoles, nil },
		code:    func(v *catalogue.LabourRole) string { return v.Code },
		version: func(v *catalogue.LabourRole) int64 { return v.Version },
	})
	serve(s, collection[catalogue.ClimateProfile]{
		keeping: keepingOf(sheet.ClimateProfiles),
		items:   func(cat *catalogue.Snapshot) ([]catalogue.ClimateProfile, error) { return cat.ClimateProfiles, nil },
		code:    func(v *catalogue.ClimateProfile) string { return v.Code },
		version: func(v *catalogue.ClimateProfile) int64 { return v.Version },
	})
	serve(s, collection[catalogue.Place]{
		keeping: keepingOf(sheet.Places),
		items:   func(cat *catalogue.Snapshot) ([]catalogue.Place, error) { return cat.Places, nil },
		code:    func(v *catalogue.Place) string { return v.Code },
		version: func(v *catalogue.Place) int64 { return v.Version },
	})
	serve(s, collection[catalogue.TaxRegion]{
		keeping: keepingOf(sheet.TaxRegions),
		items:   func(cat *catalogue.Snapshot) ([]catalogue.TaxRegion, error) { return cat.TaxRegions, nil },
		code:    func(v *catalogue.TaxRegion) string { return v.Code },
		version: func(v *catalogue.TaxRegion) int64 { return v.Version },
	})
	serve(s, collection[settingNow]{
		keeping: keepingOf(sheet.Settings),
		items:   settingsNow,
		code:    func(v *settingNow) string { return v.Key },
		version: func(v *settingNow) int64 { return v.version },
		write:   writeSetting,
	})
}
