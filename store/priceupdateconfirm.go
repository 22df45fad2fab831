package store

import (
	"context"
	"fmt"
	"strings"

	"github.com/jackc/pgx/v5"

	"seamwright/service/catalogue"
)

// A list confirms the prices in force on its day, but for the packs of which it says nothing, or whose row was held or
// rejected. Of each supplier the list days are kept (price_list_day) and of the few other packs the days that confirm
// nothing (price_silence). Both are per day, so that lists in any order leave the same.

const insertListDay = `
INSERT INTO price_list_day (supplier, day) VALUES ($1, $2)
ON CONFLICT DO NOTHING`

// addSilence notes of which packs no list of the day speaks. A silence that reaches the list day before goes on.
const addSilence = `
INSERT INTO price_silence AS s (supplier, item, size, days)
SELECT $1::text, a.item, a.size, datemultirange(daterange($2::date, $2::date + 1))
FROM price_update_absent a
WHERE a.update_number = $3
  AND NOT EXISTS (
    SELECT FROM price_update o
    WHERE o.supplier = $1::text AND o.effective_from = $2::date AND o.number <> $3 AND o.status IN ('applied', 'unchanged')
      AND NOT EXISTS (SELECT FROM price_update_absent b WHERE b.update_number = o.number AND b.item = a.item AND b.size = a.size))
ON CONFLICT (supplier, item, size) DO UPDATE
  SET days = s.days + datemultirange(daterange(
    coalesce((SELECT max(day) FROM price_list_day WHERE supplier = $1::text AND day < $2::date AND s.days @> day
              AND day = (SELECT max(day) FROM price_list_day WHERE supplier = $1::text AND day < $2::date)), $2::date),
    $2::date + 1))
  WHERE NOT s.days @> $2::date`

// endSilence takes the day out of the silences of packs that the list speaks of.
const endSilence = `
UPDATE price_silence s SET days = s.days - datemultirange(daterange($2::date, $2::date + 1))
WHERE s.supplier = $1::text AND s.days @> $2::date
  AND NOT EXISTS (SELECT FROM price_update_absent a WHERE a.update_number = $3 AND a.item = s.item AND a.size = s.size)`

// ofApproved narrows it to rows that somebody approved: they say nothing of other packs.
const ofApproved = `
  AND EXISTS (SELECT FROM price_stage p WHERE p.item = s.item AND p.size = s.size)`

// confirm notes which prices the list confirms. What the list lacks has been noted before.
func (w *priceWork) confirm(ctx context.Context) error {
	args := []any{w.list.Supplier, string(w.list.EffectiveFrom), w.number}
	if _, err := w.tx.Exec(ctx, insertListDay, args[:2]...); err != nil {
		return err
	}
	end := endSilence
	if w.decision {
		end += ofApproved
	} else if _, err := w.tx.Exec(ctx, addSilence, args...); err != nil {
		return err
	}
	_, err := w.tx.Exec(ctx, end, args...)
	return err
}

// silenceByHand: a price that comes by hand with a day of the past goes over what lists on later days said, until the
// next price; they do not confirm it. Its arguments are those of a row of prices.
const silenceByHand = `
INSERT INTO price_silence AS s (supplier, item, size, days)
SELECT $3::text, $1::text, $2::text::numeric, datemultirange(daterange($4::text::date + 1, e.ends))
FROM (
  SELECT least(max(day) + 1, (SELECT min(valid_from) FROM price WHERE item = $1::text AND size = $2::text::numeric AND supplier = $3::text AND valid_from > $4::text::date)) AS ends
  FROM price_list_day
  WHERE supplier = $3::text
  HAVING max(day) > $4::text::date) e
WHERE e.ends > $4::text::date + 1
ON CONFLICT (supplier, item, size) DO UPDATE SET days = s.days + excluded.days`

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
