package shelf

import (
	"fmt"
	"strings"

	"github.com/jackc/pgx/v5"

	"seamwright/service/catalogue"
)

// On the days of its lists a supplier confirms its prices, but for the packs that no list of the day speaks of.

const selectListDays = `SELECT supplier::text, day::text FROM price_list_day ORDER BY supplier, day`

func (t *loadedPrices) listDay(rows pgx.Rows) error {
	raw := rows.RawValues()
	supplier := t.texts.once(raw[0])
	t.listDays[supplier] = append(t.listDays[supplier], catalogue.Date(t.texts.once(raw[1])))
	return nil
}

const selectSilences = `
SELECT item::text, size::text, supplier::text, days::text
FROM price_silence
WHERE NOT isempty(days)
  AND item NOT IN (SELECT code FROM item WHERE retired_at IS NOT NULL)
  AND (item, size) NOT IN (SELECT item, size FROM item_pack WHERE retired_at IS NOT NULL)
ORDER BY item, size, supplier`

func (t *loadedPrices) silence(rows pgx.Rows) error {
	raw := rows.RawValues()
	size, err := t.quantity(raw[1])
	if err != nil {
		return fmt.Errorf("row %s, column size: %w", raw[0], err)
	}
	silence := catalogue.Silence{Supplier: t.texts.once(raw[2]), Size: size}
	for _, part := range strings.Split(strings.Trim(string(raw[3]), "{}"), "),") { // {[first,after),[first,after)}
		first, after, ok := strings.Cut(strings.Trim(part, "[)"), ",")
		if !ok {
			return fmt.Errorf("row %s, column days: cannot read %q", raw[0], raw[3])
		}
		silence.Days = append(silence.Days, catalogue.Days{First: catalogue.Date(first), After: catalogue.Date(after)})
	}
	item := string(raw[0])
	t.silences[item] = append(t.silences[item], silence)
	return nil
}
