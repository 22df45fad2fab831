// Package calls makes requests at random from the specification of an interface: good ones, ones at the bounds of what is
// said, and broken ones, for every operation, headers included.
package calls

import (
	"encoding/json"
	"fmt"
	"maps"
	"math/rand/v2"
	"net/http"
	"net/url"
	"regexp"
	"slices"
	"strings"

	"github.com/getkin/kin-openapi/openapi3"
)

// Request is one call. Its target is as it goes over the line.
type Request struct {
	Method, Target string
	Header         http.Header
	Body           string
	// MayWait says that it asks for a state that need not come, so that 503 is a right answer.
	MayWait bool
}

// Maker makes requests. It is for one goroutine.
type Maker struct {
	random     *rand.Rand
	operations []operation
	known      []string // names of things, learned from answers
	tags       []string // of answers
	spared     map[string]bool
}

type operation struct {
	method, path string
	said         *openapi3.Operation
	parameters   []*openapi3.Parameter
	examples     []any // of the body in JSON
}

// New makes a maker for an interface; the same seed makes the same requests as long as it learns the same. Names that are
// spared are never used: of the key that calls, for one.
func New(document *openapi3.T, seed uint64, spared ...string) *Maker {
	m := &Maker{random: rand.New(rand.NewPCG(seed, 1)), spared: map[string]bool{}, //nolint:gosec // nobody guesses at it
		known: []string{"teak", "maple_sugar", "biscuit_0", "demo", "tax", "maker", "draw_bolt_150", "hardwax_oil"}}
	for _, name := range spared {
		m.spared[name] = true
	}
	for _, path := range document.Paths.InMatchingOrder() {
		item := document.Paths.Value(path)
		all := item.Operations()
		for _, method := range slices.Sorted(maps.Keys(all)) {
			m.operations = append(m.operations, newOperation(method, path, item, all[method]))
		}
	}
	return m
}

func newOperation(method, path string, item *openapi3.PathItem, said *openapi3.Operation) operation {
	op := operation{method: method, path: path, said: said}
	for _, list := range []openapi3.Parameters{item.Parameters, said.Parameters} {
		for _, ref := range list {
			op.parameters = append(op.parameters, ref.Value)
		}
	}
	if said.RequestBody != nil {
		if media := said.RequestBody.Value.Content.Get("application/json"); media != nil {
			if media.Example != nil {
				op.examples = append(op.examples, media.Example)
			}
			for _, name := range slices.Sorted(maps.Keys(media.Examples)) {
				op.examples = append(op.examples, media.Examples[name].Value.Value)
			}
		}
	}
	return op
}

// Operations is how many there are.
func (m *Maker) Operations() int { return len(m.operations) }

// Learn takes names of things and tags out of an answer.
func (m *Maker) Learn(header http.Header, body []byte) {
	if tag := header.Get("ETag"); tag != "" && len(m.tags) < 500 {
		m.tags = append(m.tags, tag)
	}
	var tree any
	if len(body) < 1<<20 && json.Unmarshal(body, &tree) == nil {
		m.learn(tree)
	}
}

func (m *Maker) learn(tree any) {
	switch v := tree.(type) {
	case map[string]any:
		for name, value := range v {
			if text, ok := value.(string); ok && (name == "id" || name == "code" || name == "next_cursor") && !m.spared[text] &&
				len(m.known) < 2000 {
				m.known = append(m.known, text)
			}
			m.learn(value)
		}
	case []any:
		for _, item := range v {
			m.learn(item)
		}
	}
}

// chance is true in so many of a hundred cases.
func (m *Maker) chance(percent int) bool { return m.random.IntN(100) < percent }

func pick[T any](m *Maker, list []T) T { return list[m.random.IntN(len(list))] }

// Next makes a request.
func (m *Maker) Next() Request {
	op := &m.operations[m.random.IntN(len(m.operations))]
	r := Request{Method: op.method, Header: http.Header{}}
	target := op.path
	for _, p := range op.parameters {
		if p.In == openapi3.ParameterInPath {
			target = strings.Replace(target, "{"+p.Name+"}", m.inPath(p), 1)
		}
	}
	r.Target = target + m.query(op, &r)
	m.headers(op, &r)
	m.body(op, &r)
	if m.chance(2) {
		r.Method = pick(m, []string{"PATCH", "OPTIONS", "TRACE", "PROPFIND", "X"})
	}
	return r
}

// broken are pieces of paths that name nothing.
var broken = []string{"%00", "%ff", "%C3%28", "a%00b", "..%2f..%2fetc", "%2e%2e", "%F0%9F%98%80", "-1", "0",
	"3000000000", "99999999999999999999", "1e3", "1.0",
	"%20", "'%20OR%201", "%22", "x%0d%0aA:%20b", "%25s", "%7B%7D", strings.Repeat("a", 64), strings.Repeat("a", 65),
	strings.Repeat("%C3%A4", 400), "*", "null", "_", "-"}

func (m *Maker) inPath(p *openapi3.Parameter) string {
	switch {
	case m.chance(25):
		return pick(m, broken)
	case len(p.Schema.Value.Enum) > 0 && m.chance(90):
		return url.PathEscape(fmt.Sprint(pick(m, p.Schema.Value.Enum)))
	case p.Schema.Value.Type.Is(openapi3.TypeInteger):
		return fmt.Sprint(m.random.IntN(4))
	}
	name := pick(m, m.known)
	if m.spared[name] {
		return "x"
	}
	return url.PathEscape(name)
}

func (m *Maker) query(op *operation, r *Request) string {
	var pairs []string
	for _, p := range op.parameters {
		if p.In != openapi3.ParameterInQuery || !p.Required && !m.chance(25) {
			continue
		}
		text := m.text(p.Schema.Value)
		if p.Name == "at_least_revision" {
			r.MayWait = true
			if m.chance(90) { // a state that is there, or none that could be: waiting takes its time
				text, r.MayWait = pick(m, []string{"0", "1", "-1", "x", "1.5", ""}), false
			}
		}
		pairs = append(pairs, p.Name+"="+text)
		if m.chance(3) {
			pairs = append(pairs, p.Name+"="+text)
		}
	}
	if m.chance(3) {
		pairs = append(pairs, pick(m, []string{"unknown=1", "%zz", "=", "a;b", "%00=%00", "limit",
			strings.Repeat("x", 5000)}))
	}
	if len(pairs) == 0 {
		return ""
	}
	return "?" + strings.Join(pairs, "&")
}

// text is a value of a parameter, good or not, as it stands in a query.
func (m *Maker) text(s *openapi3.Schema) string {
	if m.chance(25) {
		return pick(m, broken)
	}
	value := m.value(s, 3)
	switch v := value.(type) {
	case string:
		return url.QueryEscape(v)
	case json.Number:
		return string(v)
	}
	return url.QueryEscape(fmt.Sprint(value))
}

// odd are values of headers that are seldom sent.
var odd = []string{"", " ", "\x80\xff", "J\xf6rg", "Jörg", "a\tb", strings.Repeat("h", 300), strings.Repeat("h", 5000),
	"*", `"`, `W/"1"`, "1", "null", "%00", "☺"}

func (m *Maker) headers(op *operation, r *Request) {
	set := func(percent int, name string, values ...string) {
		if m.chance(percent) {
			if m.chance(15) {
				values = odd
			}
			r.Header.Set(name, pick(m, values))
		}
	}
	set(25, "Idempotency-Key", fmt.Sprint("k", m.random.IntN(50)), fmt.Sprint("k", m.random.Int()))
	set(20, "X-Actor", "Robin", "Jörg", "J\xf6rg")
	set(20, "X-Request-ID", "r1", "r-2")
	set(15, "Origin", "https://shop.example", "null")
	set(15, "Accept", "application/json", "image/svg+xml", "application/pdf", "text/csv", "text/html", "*/*", "x/y;q=z")
	set(10, "If-None-Match", append([]string{"*"}, m.tags...)...)
	if op.method == http.MethodPut || op.method == http.MethodDelete || op.method == http.MethodPost {
		set(60, "If-Match", append([]string{"*"}, m.tags...)...)
	}
	set(3, "Content-Encoding", "gzip", "br", "identity")
	set(3, "Range", "bytes=0-1", "bytes=9-1")
	if m.chance(3) { // any other expectation gets the library's own 417, which has no body
		r.Header.Set("Expect", "100-continue")
	}
	set(3, "X-Forwarded-For", "10.0.0.1", "::1", "x")
	set(3, "Access-Control-Request-Method", "POST", "x")
}

// receivers are the hosts that a body could name to be called: none of them is.
var receivers = regexp.MustCompile(`(https?)://[^/"\\]*`)

func (m *Maker) body(op *operation, r *Request) {
	if op.said.RequestBody == nil {
		if m.chance(3) {
			r.Body = "{}"
		}
		return
	}
	content := op.said.RequestBody.Value.Content
	kind := pick(m, slices.Sorted(maps.Keys(content)))
	r.Header.Set("Content-Type", kind)
	switch {
	case m.chance(4):
		r.Header.Set("Content-Type", pick(m, []string{"text/plain", "application/json; charset=latin1", "application/xml", "",
			"application/json; charset=utf-8"}))
	case m.chance(3):
		return
	}
	if kind != "application/json" {
		r.Body = m.lines(op)
		return
	}
	var tree any
	if len(op.examples) > 0 && m.chance(60) {
		tree = pick(m, op.examples)
	} else {
		tree = m.value(content.Get(kind).Schema.Value, 6)
	}
	for m.chance(55) {
		tree = m.spoil(tree)
	}
	r.Body = receivers.ReplaceAllString(m.spoilText(encode(tree)), "$1://receiver.invalid")
}

func encode(tree any) string {
	raw, err := json.Marshal(tree)
	if err != nil {
		return "{" // a number that is none
	}
	return string(raw)
}

// lines are bodies that are no JSON: tables, lines, pictures.
func (m *Maker) lines(op *operation) string {
	switch {
	case m.chance(20):
		return pick(m, []string{"", "\x00", "\xff\xfe", "\x89PNG\r\n\x1a\n", strings.Repeat(",", 3000), "\"", "a\n\"b"})
	case strings.Contains(op.path, "batch"):
		line := `{"units":"in","top":{"species":"maple_sugar","thickness":1.5,"runs":[{"length":96,"depth":25.5}]}}`
		return line + "\n" + m.spoilText(line) + "\n"
	}
	var b strings.Builder
	b.WriteString(pick(m, []string{"item,per,pack_of,price\n", "code,name\n", "key,value\n", "article;price\n",
		"item,supplier,valid_from,pack_of,amount\n"}))
	for range m.random.IntN(5) {
		fmt.Fprintf(&b, "%s,%s,%d,%s\n", pick(m, m.known), pick(m, []string{"pack", "each", "", "\x00"}), m.random.IntN(200),
			pick(m, []string{"1.00", "-1", "1e9", "x", "\"1,5\"", ""}))
	}
	return b.String()
}
