package shelf

import (
	"github.com/jackc/pgx/v5"

	"seamwright/service/sheet"
)

// editTables is filled once and never changed.
var editTables = map[*sheet.Part]editTable{
	sheet.Species:         speciesTable(),
	sheet.Fasteners:       fastenerTable(),
	sheet.Materials:       materialTable(),
	sheet.LabourRoles:     plainTable(sheet.LabourRoles, nil, usersOfRole),
	sheet.LabourStandards: plainTable(sheet.LabourStandards, hangAfter, usersOfStandard),
	sheet.ClimateProfiles: plainTable(sheet.ClimateProfiles, nil, usersOfClimate),
	sheet.Places:          plainTable(sheet.Places, nil, ""),
	sheet.TaxRegions:      plainTable(sheet.TaxRegions, nil, ""),
	sheet.Settings:        settingTable(),
	sheet.Prices:          priceTable(),
}

const usersOfRole = `
SELECT 'labour standard ' || code FROM labour_standard WHERE role = $1 AND retired_at IS NULL ORDER BY code`

const usersOfClimate = `
SELECT 'setting ' || key FROM setting WHERE key = 'default_climate' AND value = $1`

// settingTable cannot retire, and settings are never new: the program makes them.
func settingTable() editTable {
	return editTable{
		read:  `SELECT t.key::text, t.value, t.version::text, 'false' FROM setting t WHERE ($1::text[] IS NULL OR t.key = ANY ($1))`,
		order: " ORDER BY t.key",
		lock:  `SELECT false FROM (SELECT FROM setting WHERE key = ANY ($1::text[]) ORDER BY key FOR UPDATE) locked`,
		put: func(b *pgx.Batch, row sheet.Row, _ bool, _ Present) {
			b.Queue(`UPDATE setting SET value = $2 WHERE key = $1`, row.Get("key"), row.Get("value"))
		},
	}
}
