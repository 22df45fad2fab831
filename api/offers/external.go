package offers

import (
	"fmt"
	"maps"
	"regexp"
	"slices"
	"strings"
	"unicode"

	"seamwright/api/wire"
)

// keyForm is what a name in an offer's metadata looks like.
var keyForm = regexp.MustCompile(`^[A-Za-z0-9_.-]{1,64}$`)

// readExternal reads another system's name for an offer; nil: it is not said.
func readExternal(o *wire.Object) *string {
	if !o.Has("external_id") {
		return nil
	}
	id := o.Line("external_id")
	if strings.TrimSpace(id) != id {
		o.Wrong("external_id", "Begins or ends with a space; take it off.")
	}
	return &id
}

// readMetadata reads what another system keeps with an offer; nil: it is not said.
func readMetadata(o *wire.Object) map[string]string {
	if !o.Has("metadata") {
		return nil
	}
	m := o.Child("metadata")
	all := m.Lines()
	for _, key := range slices.Sorted(maps.Keys(all)) {
		if !keyForm.MatchString(key) {
			m.Wrong(key, fmt.Sprintf("%q is no name: take 1 to 64 of the letters a to z and A to Z, digits, points, hyphens and underscores.",
				strings.ToValidUTF8(strings.Map(visible, key), "")))
		}
	}
	return all
}

// visible takes out what cannot be seen.
func visible(r rune) rune {
	if unicode.IsControl(r) {
		return -1
	}
	return r
}

// shownMetadata is metadata as answers show it: an object, also when there is none.
func shownMetadata(m map[string]string) map[string]string {
	if m == nil {
		return map[string]string{}
	}
	return m
}
