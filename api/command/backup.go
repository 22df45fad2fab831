package command

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"

	"seamwright/service/fault"
	"seamwright/store"
	"seamwright/store/backup"
	"seamwright/store/pgserver"
)

// writeBackup writes the database into a file.
func writeBackup(ctx context.Context, s *settings, file string, stdout, stderr io.Writer) int {
	source, what, end, err := s.source(ctx, stderr)
	defer end()
	if err != nil {
		return say(stderr, exitTrouble, err)
	}
	size, err := backup.Write(ctx, source, file)
	if err != nil {
		return refuseOrTrouble(stderr, err)
	}
	fmt.Fprintf(stdout, "%s (%d bytes) is a backup of %s. It has customers' names and the secrets that sign webhooks: "+
		"keep it where nobody else reads it.\n", file, size, what)
	return exitDone
}

// restoreBackup makes an empty database what a file says, and brings it up to date unless it shall stay as it was.
func restoreBackup(ctx context.Context, s *settings, file string, o *options, stdout, stderr io.Writer) int {
	kept, err := os.Open(file)
	if err != nil {
		return say(stderr, exitUsage, err)
	}
	kept.Close()
	source, what, end, err := s.source(ctx, stderr)
	defer end()
	if err != nil {
		return say(stderr, exitTrouble, err)
	}
	held, err := backup.Restore(ctx, source, file)
	if err != nil {
		return refuseOrTrouble(stderr, err)
	}
	fmt.Fprintf(stdout, "%s is restored into %s. Keys revoked and customers erased after the backup was made are back: "+
		"revoke and erase them again.\n", file, what)
	if held.Endpoints+held.Deliveries > 0 {
		fmt.Fprintf(stdout, `Webhooks are held, so that this copy tells nobody anything unasked. Endpoints switched off: %d. Deliveries that were
still to be sent and are dead now: %d. When this copy takes the place of the other database, switch the endpoints on
(PUT /v1/webhook-endpoints/ID with "enabled": true), then send what nobody has heard yet
(POST /v1/webhook-endpoints/ID/replay, or one by one what GET /v1/webhook-deliveries?status=dead lists).
`, held.Endpoints, held.Deliveries)
	}
	if o.noMigrate {
		return exitDone
	}
	if err := store.Prepare(ctx, source.URL); err != nil {
		return say(stderr, exitTrouble, fmt.Errorf("restored, but not brought up to date; seamwright migrate tries again: %w", err))
	}
	return exitDone
}

// source is the database in use and where PostgreSQL's programs are.
func (s *settings) source(ctx context.Context,
	stderr io.Writer) (from backup.Source, what string, end func(), err error) {
	from.URL, what, end, err = database(ctx, s, s.logger(stderr), true)
	from.Programs = pgserver.Options{BinDir: s.PostgresBin, Places: s.serverPlaces}
	return from, what, end, err
}

// refuseOrTrouble says why not: what the caller can change is refused, all else is trouble.
func refuseOrTrouble(stderr io.Writer, err error) int {
	var refusal *fault.Fault
	if errors.As(err, &refusal) && refusal.Kind != fault.Unavailable {
		return say(stderr, exitRefused, refusal)
	}
	return say(stderr, exitTrouble, err)
}
