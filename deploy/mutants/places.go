package main

import (
	"fmt"
	"path"
	"slices"
	"strconv"
	"strings"
)

// spot is a file under service/, or one line of it; line 0 is all of them.
type spot struct {
	file string
	line int
}

// spots are the places that were asked for by name.
type spots []spot

// placesOf reads places like estimate/close.go:58.
func placesOf(names []string) (spots, error) {
	var list spots
	for _, name := range names {
		file, digits, one := strings.Cut(name, ":")
		p := spot{file: "service/" + path.Clean(file)}
		if one {
			line, err := strconv.Atoi(digits)
			if err != nil || line < 1 {
				return nil, fmt.Errorf("--at %s: after the colon stands a line's number", name)
			}
			p.line = line
		}
		list = append(list, p)
	}
	return list, nil
}

// packages are the packages of the places, each once.
func (s spots) packages() []string {
	var names []string
	for _, p := range s {
		names = append(names, strings.TrimPrefix(path.Dir(p.file), "service/"))
	}
	slices.Sort(names)
	return slices.Compact(names)
}

// each makes a site of every mistake that is at one of the places: all of them are tried, not one of each site.
func (s spots) each(all []site) []site {
	var list []site
	for _, made := range all {
		for _, m := range made {
			if s.has(&m) {
				list = append(list, site{m})
			}
		}
	}
	return list
}

func (s spots) has(m *mutant) bool {
	return slices.ContainsFunc(s, func(p spot) bool { return p.file == m.file && (p.line == 0 || p.line == m.line) })
}
