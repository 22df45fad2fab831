package shelf

import (
	"github.com/jackc/pgx/v5"

	"seamwright/service/sheet"
)

const usersOfStandard = `
SELECT 'labour standard ' || s.code
FROM labour_standard_after a
JOIN labour_standard s ON s.code = a.step
WHERE a.follows = $1 AND s.retired_at IS NULL
ORDER BY s.code`

func hangAfter(b *pgx.Batch, row sheet.Row) {
	b.Queue(`DELETE FROM labour_standard_after WHERE step = $1`, row.Get("code"))
	if row.Get("after") != "" {
		b.Queue(`INSERT INTO labour_standard_after (step, follows) SELECT $1::text, unnest(string_to_array($2::text, ' '))`,
			row.Get("code"), row.Get("after"))
	}
}
