package shelf

import (
	"fmt"

	"github.com/jackc/pgx/v5"

	"seamwright/service/catalogue"
	"seamwright/service/measure"
	"seamwright/service/money"
)

const selectLabourRoles = `
SELECT code, name, rate::text, version
FROM labour_role
WHERE retired_at IS NULL
ORDER BY code`

func (l *loading) role(rows pgx.Rows) error {
	var r catalogue.LabourRole
	var rate string
	if err := rows.Scan(&r.Code, &r.Name, &rate, &r.Version); err != nil {
		return err
	}
	var err error
	if r.Rate, err = money.ParseUnitPrice(rate); err != nil {
		return fmt.Errorf("row %s, column rate: %w", r.Code, err)
	}
	l.snapshot.LabourRoles = append(l.snapshot.LabourRoles, r)
	return nil
}

const selectLabourStandards = `
SELECT s.code, s.name, s.place, s.role, s.crew, s.condition, s.driver,
       s.setup_low, s.setup_likely, s.setup_high, s.each_low, s.each_likely, s.each_high,
       s.wait_hours, s.by_hardness, s.by_thickness, s.by_tool, s.by_experience, s.lifts, s.gives, s.note,
       ARRAY(SELECT a.follows::text FROM labour_standard_after a WHERE a.step = s.code ORDER BY a.follows),
       s.version
FROM labour_standard s
WHERE s.retired_at IS NULL
ORDER BY s.place, s.code`

func (l *loading) standard(rows pgx.Rows) error {
	var s catalogue.LabourStandard
	err := rows.Scan(&s.Code, &s.Name, &s.Order, &s.Role, &s.Crew, &s.When, &s.Driver,
		&s.Setup.Low, &s.Setup.Likely, &s.Setup.High, &s.Each.Low, &s.Each.Likely, &s.Each.High,
		&s.WaitHours, &s.ByHardness, &s.ByThickness, &s.ByTool, &s.ByExperience, &s.Lifts, &s.Gives, &s.Note, &s.After, &s.Version)
	l.snapshot.LabourStandards = append(l.snapshot.LabourStandards, s)
	return err
}

const selectClimateProfiles = `
SELECT code, name, dry_humidity, dry_temperature_c, dry_moisture, humid_humidity, humid_temperature_c, humid_moisture, source, note, version
FROM climate_profile
WHERE retired_at IS NULL
ORDER BY code`

func (l *loading) climate(rows pgx.Rows) error {
	var p catalogue.ClimateProfile
	var dry, humid season
	err := rows.Scan(&p.Code, &p.Name, &dry.humidity, &dry.temperature, &dry.moisture,
		&humid.humidity, &humid.temperature, &humid.moisture, &p.Source, &p.Note, &p.Version)
	if err != nil {
		return err
	}
	p.Dry, p.Humid = dry.climate(), humid.climate()
	l.snapshot.ClimateProfiles = append(l.snapshot.ClimateProfiles, p)
	return nil
}

// season is a season as the table has it: air or moisture, as the table's checks see to.
type season struct{ humidity, temperature, moisture *float64 }

func (s season) climate() catalogue.Climate {
	if s.moisture != nil {
		return catalogue.Climate{Moisture: measure.Moisture(*s.moisture)}
	}
	air := catalogue.Air{Humidity: measure.Humidity(*s.humidity), Temperature: measure.Celsius(*s.temperature)}
	return catalogue.Climate{Air: air, IsAir: true}
}
