package store

import (
	"context"
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"fmt"
	"io/fs"

	"seamwright/service/catalogue"
	"seamwright/store/hooks"
)

// Prepare makes a database ready for use: it migrates the schema, puts in the demo catalogue if that was never
// done, and adds settings that a newer program knows and the database does not. Doing it again changes nothing.
func Prepare(ctx context.Context, url string) error {
	if err := Migrate(ctx, url); err != nil {
		return err
	}
	return seed(ctx, url, Fingerprint())
}

// Fingerprint returns a short hash over everything that Prepare puts into an empty database: migrations, seed
// files and the defaults of settings. Two programs with the same fingerprint prepare the same database.
func Fingerprint() string {
	sum := sha256.New()
	for _, files := range []embed.FS{migrationFiles, seedFiles} {
		err := fs.WalkDir(files, ".", func(path string, entry fs.DirEntry, err error) error {
			if err != nil || entry.IsDir() {
				return err
			}
			text, err := files.ReadFile(path)
			fmt.Fprintf(sum, "%s %d\n%s", path, len(text), text)
			return err
		})
		if err != nil {
			panic("embedded files cannot be read: " + err.Error()) // they are part of the program
		}
	}
	for _, step := range hooks.QueueSteps() {
		fmt.Fprintf(sum, "queue %d %s\n", step.Version, step.SQLUp)
	}
	for _, s := range catalogue.SettingList() {
		fmt.Fprintf(sum, "%q %q %q %q\n", s.Key, s.Default, s.About, s.Source)
	}
	return hex.EncodeToString(sum.Sum(nil))[:16]
}
