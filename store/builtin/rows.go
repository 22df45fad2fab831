package builtin

import (
	"bytes"
	"compress/gzip"
	_ "embed"
	"encoding/json"
	"fmt"
	"sync"

	"seamwright/service/sheet"
)

//go:embed rows.json.gz
var packedRows []byte

var unpackedRows = sync.OnceValues(func() (map[string][][]string, error) {
	z, err := gzip.NewReader(bytes.NewReader(packedRows))
	if err != nil {
		return nil, fmt.Errorf("built-in rows: %w", err)
	}
	rows := map[string][][]string{}
	if err := json.NewDecoder(z).Decode(&rows); err != nil {
		return nil, fmt.Errorf("built-in rows: %w", err)
	}
	return rows, nil
})

// Rows are the rows of a part that a new database is seeded with, in the order of their keys; none of the settings, which
// every database gets by itself. It fails only when the embedded file is damaged.
func Rows(part *sheet.Part) ([]sheet.Row, error) {
	all, err := unpackedRows()
	rows := make([]sheet.Row, len(all[part.Name]))
	for i, cells := range all[part.Name] {
		rows[i] = sheet.Row{Part: part, Cells: cells}
	}
	return rows, err
}
