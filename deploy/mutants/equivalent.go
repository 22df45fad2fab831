package main

import (
	_ "embed"
	"encoding/csv"
	"fmt"
	"slices"
	"strings"
)

//go:embed equivalent.csv
var equivalentFile string

// equivalents are mistakes that change nothing that could be seen from outside, by file, function and change.
type equivalents map[[4]string]bool

// readEquivalent reads equivalent.csv. Each row must give its reason.
func readEquivalent() (equivalents, error) {
	r := csv.NewReader(strings.NewReader(equivalentFile))
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		return nil, fmt.Errorf("equivalent.csv: %w", err)
	}
	known := equivalents{}
	for i, row := range rows {
		if i == 0 {
			continue // names of the columns
		}
		if strings.TrimSpace(row[4]) == "" {
			return nil, fmt.Errorf("equivalent.csv: %s, %s has no reason", row[0], row[2])
		}
		known[[4]string(row[:4])] = true
	}
	return known, nil
}

func (e equivalents) has(m mutant) bool { return e[m.key()] }

// key names a mistake whatever its line is.
func (m *mutant) key() [4]string { return [4]string{m.file, m.function, m.before, m.after} }

// staleRows are the rows whose code is gone: they must be written anew, or go as well.
func staleRows(root string, known equivalents) ([][4]string, error) {
	queues, err := plan(root, options{}, nil)
	if err != nil {
		return nil, err
	}
	made := equivalents{}
	for _, q := range queues {
		for _, s := range q.sites {
			for _, m := range s {
				made[m.key()] = true
			}
		}
	}
	var stale [][4]string
	for key := range known {
		if !made[key] {
			stale = append(stale, key)
		}
	}
	slices.SortFunc(stale, func(a, b [4]string) int { return slices.Compare(a[:], b[:]) })
	return stale, nil
}
