package shelf

import (
	"github.com/jackc/pgx/v5"
)

const selectRevisionAndSize = `SELECT revision, (SELECT greatest(reltuples, 0)::int FROM pg_class WHERE oid = 'item'::regclass) FROM catalogue_revision`

// revision also makes room for about as many items as there are.
func (l *loading) revision(rows pgx.Rows) error {
	var items int
	err := rows.Scan(&l.snapshot.Revision, &items)
	l.items.reserve(items)
	return err
}

const selectSettings = `SELECT key, value, version FROM setting ORDER BY key`

func (l *loading) setting(rows pgx.Rows) error {
	var key, value string
	var version int64
	if err := rows.Scan(&key, &value, &version); err != nil {
		return err
	}
	l.settings[key], l.snapshot.SettingVersions[key] = value, version
	return nil
}
