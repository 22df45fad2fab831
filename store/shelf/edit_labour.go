package shelf

import (
	"strings"

	"github.com/jackc/pgx/v5"

	"seamwright/service/sheet"
)

// standardCells stand in the order of the sheet, but for what a step follows.
var standardCells = []tableCell{
	{"code", "code", "text", ""}, {"name", "name", "text", ""}, {"order", "place", "integer", ""}, {"role", "role", "text", ""},
	{"crew", "crew", "integer", ""}, {"when", "condition", "text", ""}, {"driver", "driver", "text", ""},
	{"setup_low", "setup_low", "double precision", ""}, {"setup_likely", "setup_likely", "double precision", ""}, {"setup_high", "setup_high", "double precision", ""},
	{"each_low", "each_low", "double precision", ""}, {"each_likely", "each_likely", "double precision", ""}, {"each_high", "each_high", "double precision", ""},
	{"wait_hours", "wait_hours", "double precision", ""},
	{"by_hardness", "by_hardness", "boolean", ""}, {"by_thickness", "by_thickness", "boolean", ""}, {"by_tool", "by_tool", "boolean", ""},
	{"by_experience", "by_experience", "boolean", ""},
	{"lifts", "lifts", "boolean", ""}, {"gives", "gives", "text", "''"}, {"note", "note", "text", "''"}, {"source", "source", "text", ""},
}

const usersOfStandard = `
SELECT 'labour standard ' || s.code
FROM labour_standard_after a
JOIN labour_standard s ON s.code = a.step
WHERE a.follows = $1 AND s.retired_at IS NULL
ORDER BY s.code`

const shownAfter = `coalesce((SELECT string_agg(a.follows::text, ' ' ORDER BY a.follows) FROM labour_standard_after a WHERE a.step = t.code), '')`

func standardTable() editTable {
	t := plainTable("labour_standard", standardCells, hangAfter, usersOfStandard)
	wait := standardCells[13].shown("t") // what a step follows stands behind it in the sheet
	t.read = strings.Replace(t.read, wait+", ", wait+", "+shownAfter+", ", 1)
	return t
}

func hangAfter(b *pgx.Batch, row sheet.Row) {
	b.Queue(`DELETE FROM labour_standard_after WHERE step = $1`, row.Get("code"))
	if row.Get("after") != "" {
		b.Queue(`INSERT INTO labour_standard_after (step, follows) SELECT $1::text, unnest(string_to_array($2::text, ' '))`, row.Get("code"), row.Get("after"))
	}
}
