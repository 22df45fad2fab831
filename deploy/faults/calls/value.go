package calls

import (
	"encoding/json"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"github.com/getkin/kin-openapi/openapi3"
)

// value makes a value that a schema has, often at its bounds; patterns and rules between fields are left to the examples.
func (m *Maker) value(s *openapi3.Schema, depth int) any {
	for _, list := range []openapi3.SchemaRefs{s.OneOf, s.AnyOf} {
		if len(list) > 0 {
			return m.value(pick(m, list).Value, depth)
		}
	}
	if s.Nullable && m.chance(10) {
		return nil
	}
	if len(s.Enum) > 0 {
		return pick(m, s.Enum)
	}
	switch {
	case s.Type.Is(openapi3.TypeObject) || s.Type == nil && (len(s.Properties) > 0 || len(s.AllOf) > 0):
		return m.object(s, depth)
	case s.Type.Is(openapi3.TypeArray):
		list := []any{}
		for range m.count(int(s.MinItems), s.MaxItems) { //nolint:gosec // bounds of a spec are small
			if depth > 0 {
				list = append(list, m.value(s.Items.Value, depth-1))
			}
		}
		return list
	case s.Type.Is(openapi3.TypeInteger):
		return m.number(s, true)
	case s.Type.Is(openapi3.TypeNumber):
		return m.number(s, false)
	case s.Type.Is(openapi3.TypeBoolean):
		return m.chance(50)
	}
	return m.word(s)
}

func (m *Maker) object(s *openapi3.Schema, depth int) any {
	tree := map[string]any{}
	for _, part := range s.AllOf {
		if more, ok := m.value(part.Value, depth).(map[string]any); ok {
			maps.Copy(tree, more)
		}
	}
	for _, name := range slices.Sorted(maps.Keys(s.Properties)) {
		if required := slices.Contains(s.Required, name); required || depth > 0 && m.chance(30) {
			tree[name] = m.value(s.Properties[name].Value, depth-1)
		}
	}
	return tree
}

// count is how many items a list has: its least, its most when that is small, or between.
func (m *Maker) count(least int, most *uint64) int {
	if most != nil && *most < 12 && m.chance(20) {
		return int(*most) //nolint:gosec // under 12
	}
	return least + m.random.IntN(3)
}

func (m *Maker) number(s *openapi3.Schema, whole bool) any {
	low, high := 0.0, 1000.0
	if s.Min != nil {
		low = *s.Min
	}
	if s.Max != nil {
		high = *s.Max
	}
	x := pick(m, []float64{low, high, low + m.random.Float64()*(high-low),
		low + m.random.Float64()*math.Min(high-low, 100)})
	if whole {
		text := fmt.Sprintf("%.0f", math.Floor(x))
		if m.chance(10) {
			text += ".0"
		}
		return json.Number(text)
	}
	return json.Number(fmt.Sprintf("%.4g", x))
}

func (m *Maker) word(s *openapi3.Schema) any {
	switch s.Format {
	case "date":
		return pick(m, []string{"2026-11-01", "2026-02-30", "0001-01-01", "9999-12-31", "2026-11-29"})
	case "date-time":
		return pick(m, []string{"2026-11-01T00:00:00Z", "9999-12-31T23:59:59Z", "2026-11-01"})
	}
	if s.Example != nil && m.chance(50) {
		return s.Example
	}
	if m.chance(40) {
		return pick(m, m.known)
	}
	most := 12
	if s.MaxLength != nil {
		most = int(min(*s.MaxLength, 5000)) //nolint:gosec // at most 5000
	}
	n := pick(m, []int{int(s.MinLength), most, min(most, 5)}) //nolint:gosec // bounds of a spec are small
	return strings.Repeat(pick(m, []string{"a", "ä", "1", "Z", "😀"}), n)
}

// strange are values that stand where others are expected.
var strange = []any{nil, true, "", " ", "\x00", "\u202e", "1/0", "25-1/2", "7' 3-1/2\"", "1e999", json.Number("1e308"),
	json.Number("-0"), json.Number("1e-320"), json.Number("17.0"), json.Number("3000000000"),
	json.Number("9007199254740993"), json.Number("-1"), json.Number("0"), []any{}, map[string]any{}, []any{nil},
	strings.Repeat("x", 20000), "../..", "<b>", "=1+1", "NaN"}

// spoil changes one place of a tree, and leaves the tree that it was given alone.
func (m *Maker) spoil(tree any) any {
	switch v := tree.(type) {
	case map[string]any:
		if len(v) == 0 || m.chance(10) {
			copied := maps.Clone(v)
			copied[pick(m, []string{"unknown", "", "UNITS", "\x00", "__proto__"})] = pick(m, strange)
			return copied
		}
		copied, name := maps.Clone(v), pick(m, slices.Sorted(maps.Keys(v)))
		switch {
		case m.chance(15):
			delete(copied, name)
		case m.chance(40):
			copied[name] = pick(m, strange)
		default:
			copied[name] = m.spoil(v[name])
		}
		return copied
	case []any:
		copied := slices.Clone(v)
		switch {
		case len(v) == 0 || m.chance(10):
			return append(copied, pick(m, strange))
		case m.chance(10):
			for range 200 {
				copied = append(copied, pick(m, v))
			}
			return copied
		}
		at := m.random.IntN(len(v))
		copied[at] = m.spoil(v[at])
		return copied
	case float64:
		return json.Number(fmt.Sprintf("%g",
			pick(m, []float64{-v, v + 0.5, v * 1000, v / 1000, math.Floor(v), v + 1, v - 1})))
	}
	return pick(m, strange)
}

// spoilText spoils what is no tree any more.
func (m *Maker) spoilText(text string) string {
	if len(text) < 2 || !m.chance(12) {
		return text
	}
	at := m.random.IntN(len(text))
	switch m.random.IntN(8) {
	case 0:
		return text[:at]
	case 1:
		return text + text
	case 2:
		return text[:at] + pick(m, []string{"\x00", "\xff", "\xed\xa0\x80", "\ufeff", "1e400", ",", "{", "]", `"`, `\u0000`,
			`\ud800`}) + text[at:]
	case 3:
		return strings.Repeat(`[`, 20000)
	case 4:
		return strings.Replace(text, `{"`, `{"units":"in","`, 1) // said twice
	case 5:
		return "\ufeff" + text
	case 6:
		return text[:at] + string(text[at]^byte(1<<m.random.IntN(8))) + text[at+1:] //nolint:gosec // a bit
	}
	return text + " x"
}
