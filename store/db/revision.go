package db

import "context"

// The catalogue has a revision, which rises with every transaction that changes it. Whoever writes the catalogue, the
// prices or the audit trail waits there for the others.

const selectRevision = `SELECT revision FROM catalogue_revision`

// Revision is the catalogue's revision as a statement sees it.
func Revision(ctx context.Context, on Reader) (revision int64, err error) {
	err = on.QueryRow(ctx, selectRevision).Scan(&revision)
	return revision, err
}

// LockRevision makes writers of the audit trail wait for each other, so that numbers and times rise together.
func LockRevision(ctx context.Context, on Session) error {
	_, err := on.Exec(ctx, `SELECT FROM catalogue_revision FOR UPDATE`)
	return err
}

// KeepRevision keeps the catalogue as it is until the transaction ends; others may keep it, too.
func KeepRevision(ctx context.Context, on Session) error {
	_, err := on.Exec(ctx, `SELECT FROM catalogue_revision FOR SHARE`)
	return err
}

// RaiseRevision raises the revision now and not at the commit, so that it can be told.
func RaiseRevision(ctx context.Context, on Session) error {
	_, err := on.Exec(ctx, `SET CONSTRAINTS catalogue_revision_rises IMMEDIATE`)
	return err
}
