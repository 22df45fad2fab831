// Package backup writes a whole database into a file and makes a new one from it, by PostgreSQL's own programs.
package backup

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"

	"github.com/jackc/pgx/v5"

	"seamwright/service/fault"
	"seamwright/store/db"
	"seamwright/store/pgserver"
)

const (
	selectVersion = `SELECT current_setting('server_version_num')::int / 10000`

	// isOurs goes by a table that every release has.
	isOurs = `SELECT to_regclass('public.webhook_delivery') IS NOT NULL`

	// isEmpty passes over what belongs to extensions, which managed servers put into new databases.
	isEmpty = `
SELECT NOT EXISTS (
  SELECT FROM (SELECT 'pg_class'::regclass AS kind, oid, relnamespace AS within FROM pg_class
    UNION ALL SELECT 'pg_proc'::regclass, oid, pronamespace FROM pg_proc) o
  JOIN pg_namespace n ON n.oid = o.within
  WHERE n.nspname <> 'information_schema' AND NOT starts_with(n.nspname, 'pg_')
    AND NOT EXISTS (SELECT FROM pg_depend d WHERE d.classid = o.kind AND d.objid = o.oid AND d.deptype = 'e'))`
)

// Source is a database and where PostgreSQL's programs are searched for.
type Source struct {
	URL      string
	Programs pgserver.Options
}

// open asks the database one question, and finds the programs that fit it and what they are told.
func (s *Source) open(ctx context.Context,
	question string) (yes bool, programs pgserver.Clients, env []string, err error) {
	config, err := db.Config(s.URL)
	if err != nil {
		return false, programs, nil, err
	}
	conn, err := db.Connect(ctx, config.ConnConfig, db.ForLoading)
	if err != nil {
		return false, programs, nil, err
	}
	defer db.HangUp(conn)
	var major int
	batch := &pgx.Batch{}
	batch.Queue(question).QueryRow(func(row pgx.Row) error { return row.Scan(&yes) })
	batch.Queue(selectVersion).QueryRow(func(row pgx.Row) error { return row.Scan(&major) })
	if err := conn.SendBatch(ctx, batch).Close(); err != nil {
		return false, programs, nil, err
	}
	programs, err = pgserver.FindClients(ctx, s.Programs, major)
	return yes, programs, environment(config.ConnConfig, s.URL), err
}

// Write writes the database as it is at one moment into a new file that this user alone can read, in pg_dump's own
// format, and returns its size in bytes. Until it is whole it has another name. It fails with a Fault of the kind
// Conflict when the file is there already, and of the kind NotFound when the database is not one of this service.
func Write(ctx context.Context, from Source, file string) (size int64, err error) {
	if _, err := os.Lstat(file); !errors.Is(err, fs.ErrNotExist) {
		if err != nil {
			return 0, err
		}
		return 0, exists(file)
	}
	ours, programs, env, err := from.open(ctx, isOurs)
	switch {
	case err != nil:
		return 0, err
	case !ours:
		return 0, &fault.Fault{Kind: fault.NotFound,
			Detail: "There is nothing to write: the database has no tables of this service."}
	}
	part, err := os.CreateTemp(filepath.Dir(file), "."+filepath.Base(file)+".*") // for this user alone
	if err != nil {
		return 0, err
	}
	defer func() { _ = os.Remove(part.Name()) }() // unless it has become the file
	defer part.Close()
	cmd := exec.CommandContext(ctx, programs.Dump, "--format=custom", "--no-owner", "--no-acl", "--no-password",
		"--lock-wait-timeout=60s") // a step of an upgrade holds its tables for seconds
	cmd.Env, cmd.Stdout = env, part
	if err := run(ctx, cmd); err != nil {
		return 0, err
	}
	info, err := part.Stat()
	if err == nil {
		err = errors.Join(part.Sync(), part.Close())
	}
	if err == nil {
		err = settle(part.Name(), file)
	}
	if err != nil {
		return 0, fmt.Errorf("keep the backup: %w", err)
	}
	return info.Size(), nil
}

func exists(file string) error {
	return &fault.Fault{Kind: fault.Conflict, Detail: file + " is there already, and a backup never goes over a file.",
		Fix: "Choose another name."}
}

// settle gives a whole file its name, on the disk too, unless something has that name by now.
func settle(part, file string) error {
	switch err := os.Link(part, file); {
	case errors.Is(err, fs.ErrExist):
		return exists(file)
	case err != nil: // a file system without links, as on many memory sticks
		if err := os.Rename(part, file); err != nil {
			return err
		}
	}
	folder, err := os.Open(filepath.Dir(file))
	if err != nil {
		return err
	}
	defer folder.Close()
	return folder.Sync()
}
