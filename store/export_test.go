package store

import "io/fs"

// MigrationFiles are the migrations, SeedFiles the demo catalogue.
func MigrationFiles() fs.FS { return within(migrationFiles, "migrations") }
func SeedFiles() fs.FS      { return within(seedFiles, "seed") }

func within(files fs.FS, folder string) fs.FS {
	sub, err := fs.Sub(files, folder)
	if err != nil {
		panic(err) // embedded
	}
	return sub
}

// SeedTables are the tables with a file, CopyRows puts a file into a table.
var (
	SeedTables = seedTables
	CopyRows   = copyRows
)
