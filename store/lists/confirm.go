package lists

import (
	"context"
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
func (w *taking) confirm(ctx context.Context) error {
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
