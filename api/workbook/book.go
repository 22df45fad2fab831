package workbook

import (
	"path"
	"strings"
)

// book is what the workbook's own part says.
type book struct {
	sheets []entry
	styles string // name of the part; empty: there is none
	texts  string // likewise
	epoch  epoch
}

// entry is a sheet as the workbook lists it.
type entry struct {
	name   string
	hidden bool
	part   string // empty: no sheet of cells, such as one that holds a chart
}

// book reads the workbook's own part.
func (p *parts) book() (*book, error) {
	root, err := p.relations("")
	if err != nil {
		return nil, err
	}
	name, err := root.one("officeDocument")
	if err != nil {
		return nil, err
	}
	if strings.EqualFold(path.Ext(name), ".bin") {
		return nil, invalid("This is a binary workbook; save it as .xlsx.")
	}
	related, err := p.relations(name)
	if err != nil {
		return nil, err
	}
	b := &book{}
	if b.styles, err = related.one("styles"); err != nil {
		return nil, err
	}
	if b.texts, err = related.one("sharedStrings"); err != nil {
		return nil, err
	}
	return b, p.whole(name, func(t *tokens) error {
		switch {
		case t.starts("workbookPr"):
			b.epoch = epoch(t.attribute("date1904") == "1" || t.attribute("date1904") == "true")
		case t.starts("sheet"):
			if len(b.sheets) == mostParts {
				return invalid("The workbook has more than %d sheets.", mostParts)
			}
			b.sheets = append(b.sheets, entryOf(t, related))
		}
		return nil
	})
}

func entryOf(t *tokens, related relations) entry {
	e := entry{name: strings.Clone(t.attribute("name"))}
	switch t.attribute("state") {
	case "hidden", "veryHidden":
		e.hidden = true
	}
	if r := related[t.attribute("id")]; r.kind == "worksheet" {
		e.part = r.part
	}
	return e
}

// sheet is the one of that name, however it is capitalized, hidden or not; empty: the first one that is not hidden.
func (b *book) sheet(name string) (entry, error) {
	for _, e := range b.sheets {
		switch {
		case name != "" && strings.EqualFold(e.name, name) && e.part == "":
			return e, invalid("The sheet “%s” has no cells; it holds a chart or a macro.", cut(e.name))
		case name != "" && strings.EqualFold(e.name, name), name == "" && !e.hidden && e.part != "":
			return e, nil
		}
	}
	if name == "" {
		return entry{}, invalid("The workbook has no sheet of cells that is not hidden.%s", b.names())
	}
	return entry{}, invalid("The workbook has no sheet “%s”.%s", cut(name), b.names())
}

// names says which sheets there are, the first of them.
func (b *book) names() string {
	const most = 20
	var list []string
	for _, e := range b.sheets {
		if e.part == "" {
			continue
		}
		if len(list) == most {
			list = append(list, "…")
			break
		}
		text := "“" + cut(e.name) + "”"
		if e.hidden {
			text += " (hidden)"
		}
		list = append(list, text)
	}
	if len(list) == 0 {
		return ""
	}
	return " It has " + strings.Join(list, ", ") + "."
}

// cut is the start of a sheet's name, which has at most 31 letters, as a screen can show it.
func cut(name string) string {
	quoted := shown(name)
	return quoted[1 : len(quoted)-1]
}
