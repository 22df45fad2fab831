package coherence_test

import (
	"encoding/json"
	"fmt"
	"math"
	"strconv"
	"strings"

	"pgregory.net/rapid"
)

// tester is a *testing.T or a *rapid.T.
type tester interface {
	Helper()
	Fatalf(format string, args ...any)
	Errorf(format string, args ...any)
}

var _ tester = (*rapid.T)(nil)

// node is a value somewhere in an answer. What it is asked for must be there: else the test fails and names the place.
type node struct {
	t  tester
	at string
	v  any
}

func readNode(t tester, raw []byte) node {
	t.Helper()
	var v any
	if err := json.Unmarshal(raw, &v); err != nil {
		t.Fatalf("no JSON: %v", err)
	}
	return node{t: t, v: v}
}

func (n node) get(keys ...string) node {
	for _, key := range keys {
		object, ok := n.v.(map[string]any)
		if !ok {
			n.t.Helper()
			n.t.Fatalf("%s is no object: %v", n.at, n.v)
		}
		v, there := object[key]
		if !there {
			n.t.Helper()
			n.t.Fatalf("%s has no %s", n.at, key)
		}
		n = node{n.t, n.at + "/" + key, v}
	}
	return n
}

func (n node) has(key string) bool {
	object, _ := n.v.(map[string]any)
	_, there := object[key]
	return there
}

func (n node) null() bool { return n.v == nil }

func (n node) list() []node {
	items, ok := n.v.([]any)
	if !ok {
		n.t.Helper()
		n.t.Fatalf("%s is no list: %v", n.at, n.v)
	}
	out := make([]node, len(items))
	for i, v := range items {
		out[i] = node{n.t, fmt.Sprintf("%s/%d", n.at, i), v}
	}
	return out
}

func (n node) num() float64 {
	x, ok := n.v.(float64)
	if !ok || math.IsNaN(x) || math.IsInf(x, 0) {
		n.t.Helper()
		n.t.Fatalf("%s is no number: %v", n.at, n.v)
	}
	return x
}

func (n node) nums() []float64 {
	n.t.Helper()
	var out []float64
	for _, x := range n.list() {
		out = append(out, x.num())
	}
	return out
}

func (n node) int() int {
	n.t.Helper()
	x := n.num()
	if x != math.Trunc(x) {
		n.t.Fatalf("%s is no whole number: %v", n.at, x)
	}
	return int(x)
}

func (n node) flag() bool {
	b, ok := n.v.(bool)
	if !ok {
		n.t.Helper()
		n.t.Fatalf("%s is neither true nor false: %v", n.at, n.v)
	}
	return b
}

func (n node) text() string {
	s, ok := n.v.(string)
	if !ok {
		n.t.Helper()
		n.t.Fatalf("%s is no text: %v", n.at, n.v)
	}
	return s
}

// cents reads money of two decimals exactly.
func (n node) cents() int64 {
	n.t.Helper()
	s := n.text()
	whole, parts, ok := strings.Cut(s, ".")
	if !ok || len(parts) != 2 {
		n.t.Fatalf("%s is no money of two decimals: %q", n.at, s)
	}
	x, err := strconv.ParseInt(whole+parts, 10, 64)
	if err != nil {
		n.t.Fatalf("%s is no money: %q", n.at, s)
	}
	return x
}

// decimal reads money of any decimals as a number; for products, which are compared to the cent.
func (n node) decimal() float64 {
	n.t.Helper()
	x, err := strconv.ParseFloat(n.text(), 64)
	if err != nil {
		n.t.Fatalf("%s is no decimal: %v", n.at, n.v)
	}
	return x
}
