package quote

import (
	"encoding/json"
	"maps"
	"reflect"
	"slices"
	"strconv"
	"strings"
)

// Input is a value of the request that differs between two revisions.
type Input struct {
	Pointer string // RFC 6901
	Before  any    // nil and BeforeSet false: it was not there
	After   any

	BeforeSet, AfterSet bool
}

// DiffInputs lists where two requests differ. The values are JSON as package encoding/json gives it to an any, with
// numbers as json.Number. Numbers that are equal in value are equal.
func DiffInputs(before, after any) (list []Input) {
	diff("", before, after, true, true, &list)
	return list
}

func diff(at string, before, after any, was, is bool, list *[]Input) {
	a, objectBefore := before.(map[string]any)
	b, objectAfter := after.(map[string]any)
	if objectBefore && objectAfter {
		keys := slices.Collect(maps.Keys(a))
		for key := range b {
			if _, both := a[key]; !both {
				keys = append(keys, key)
			}
		}
		slices.Sort(keys)
		for _, key := range keys {
			x, was := a[key]
			y, is := b[key]
			diff(at+"/"+escape(key), x, y, was, is, list)
		}
		return
	}
	c, listBefore := before.([]any)
	d, listAfter := after.([]any)
	if listBefore && listAfter {
		for i := range max(len(c), len(d)) {
			var x, y any
			if i < len(c) {
				x = c[i]
			}
			if i < len(d) {
				y = d[i]
			}
			diff(at+"/"+strconv.Itoa(i), x, y, i < len(c), i < len(d), list)
		}
		return
	}
	if was != is || !same(before, after) {
		*list = append(*list, Input{Pointer: at, Before: before, After: after, BeforeSet: was, AfterSet: is})
	}
}

func same(a, b any) bool {
	x, number := a.(json.Number)
	y, both := b.(json.Number)
	if number && both {
		p, notP := x.Float64()
		q, notQ := y.Float64()
		return notP == nil && notQ == nil && p == q
	}
	return reflect.DeepEqual(a, b)
}

var pointerEscape = strings.NewReplacer("~", "~0", "/", "~1")

func escape(key string) string { return pointerEscape.Replace(key) }
