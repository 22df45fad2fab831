package pgserver

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
)

// ErrNoClients means that the machine has no pg_dump, pg_restore and psql that can work with a server.
var ErrNoClients = errors.New("no pg_dump, pg_restore and psql that fit the database found")

// Clients are PostgreSQL's own programs for a database's content, all of one folder.
type Clients struct {
	Dump    string // pg_dump
	Restore string // pg_restore
	Script  string // psql
}

// FindClients gives the programs for a server of that major version: the first of the same version, or else the first of a
// newer one, in the folders where server programs are searched for, which have them beside them. Those of an older version
// refuse a newer server. The error is an ErrNoClients that says which were found.
func FindClients(ctx context.Context, o Options, major int) (Clients, error) {
	folders := []string{o.BinDir}
	if o.BinDir == "" {
		// What packages put into PATH may be a wrapper that looks for a server of its own: it comes last.
		folders = append(binaryFolders("", o.places()), binaryFolders(os.Getenv("PATH"), nil)...)
	}
	var newer *Clients
	var seen []string
	for _, dir := range folders {
		c := Clients{Dump: filepath.Join(dir, "pg_dump"), Restore: filepath.Join(dir, "pg_restore"),
			Script: filepath.Join(dir, "psql")}
		if slices.ContainsFunc([]string{c.Dump, c.Restore, c.Script}, missing) {
			continue
		}
		text, err := exec.CommandContext(ctx, c.Dump, "--version").Output()
		_, after, ok := strings.Cut(string(text), "(PostgreSQL) ")
		if ctx.Err() != nil {
			return Clients{}, ctx.Err()
		}
		if err != nil || !ok {
			seen = append(seen, "those in "+dir+" do not run")
			continue
		}
		version, err := strconv.Atoi(number.FindString(after))
		switch {
		case err == nil && version == major:
			return c, nil
		case err == nil && version > major && newer == nil:
			newer = &c
		}
		seen = append(seen, number.FindString(after)+" in "+dir)
	}
	if newer != nil {
		return *newer, nil
	}
	return Clients{}, fmt.Errorf("%w: the server has version %d; there is %s. Install postgresql-client of version %d or newer, or name its folder with --postgres-bin",
		ErrNoClients, major, cmp.Or(strings.Join(seen, ", "), "none"), major)
}
