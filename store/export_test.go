package store

import "io/fs"

// MigrationFiles are the migrations.
func MigrationFiles() fs.FS {
	files, err := fs.Sub(migrationFiles, "migrations")
	if err != nil {
		panic(err) // embedded
	}
	return files
}
