package leaflet

import (
	"math"
	"strconv"

	"seamwright/service/document"
	"seamwright/service/document/speak"
	"seamwright/service/measure"
)

// Care says how a top is looked after. It fails when there are no words in that language.
func Care(in *Input) (*document.Document, error) { return make1(in, "care_title", (*maker).care) }

func (m *maker) care() error {
	made := &m.e.Made
	finish := m.Say("finish_bare")
	if made.FinishName != "" {
		finish = m.Many("finish_coats", made.Coats, speak.With{"Name": m.Drawings.Name(made.FinishName)})
	}
	m.add(document.Text{Tone: document.Lead, Text: m.Say("care_lead",
		speak.With{"Wood": m.woods(), "Size": m.sizes(), "Thickness": m.length(made.Thickness), "Finish": finish}, m.unit)})
	daily := []string{m.Say("care_wet")}
	if len(m.e.Corners) > 0 {
		daily = append(daily, m.Say("care_wet_seam"))
	}
	if len(m.e.Cutouts) > 0 {
		daily = append(daily, m.Say("care_wet_sink"))
	}
	daily = append(daily, m.Say("care_list_hot"), m.Say("care_list_clean"), m.Say("care_list_steam"), m.Say("care_load"))
	m.part("care_daily", daily...)
	m.part("care_surface", m.surface()...)
	m.year()
	return nil
}

func (m *maker) surface() []string {
	made := &m.e.Made
	if made.FinishName == "" {
		return []string{m.Say("care_list_bare"), m.Say("care_rags")}
	}
	cured := m.Say("care_list_cured")
	if days := int(math.Ceil(made.CureDays)); days > 0 {
		cured = m.Many("care_list_cure", days)
	}
	return []string{cured, m.Say("care_renew"), m.Say("care_rags"), m.Say("care_food")}
}

// year is what the seasons do, with the numbers of the run that moves most.
func (m *maker) year() {
	most := 0
	for i := range m.e.Runs {
		if m.e.Runs[i].Movement.Range > m.e.Runs[most].Movement.Range {
			most = i
		}
	}
	r := &m.e.Runs[most]
	wet := func(x measure.Moisture) string {
		return m.Decimal(strconv.FormatFloat(measure.Round(float64(x), 1), 'f', -1, 64))
	}
	items := []string{m.Say("care_list_damp"), m.Say("care_moves",
		speak.With{"Range": m.length(r.Movement.Range), "Dry": wet(r.Moisture.Dry), "Humid": wet(r.Moisture.Humid)}, m.unit),
		m.Say("care_list_free"), m.Say("care_look")}
	if len(m.e.Corners) > 0 {
		items = append(items, m.Say("care_look_seam"))
	}
	items = append(items, m.Say("care_list_first"))
	m.part("care_year", items...)
	m.add(document.Text{Tone: document.Fine, Text: m.Say("cautions_care")})
}
