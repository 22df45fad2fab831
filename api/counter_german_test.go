package api_test

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"maps"
	"net/http"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/getkin/kin-openapi/openapi3"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamwright/api"
	"seamwright/api/web"
	"seamwright/openapi"
	"seamwright/service/catalogue"
	"seamwright/service/document/speak"
	"seamwright/store/keys"
	"seamwright/store/storetest"
)

var (
	// named are the names that programs read, which stay in every language.
	named        = regexp.MustCompile(`"(?:[^"\\]|\\.)*"|„[^“]*“|(?:bekannt sind hier: |keines von |eines von |Wählen Sie eines: )[a-z0-9_, /-]+|X-Request-ID`)
	englishInAll = regexp.MustCompile(`(?i)\b(the|and|with|that|from|which|are|is|of|by|it|than|when|to|must|not|be|send|give|try|this|no|or)\b`)
)

// spoken holds a refusal in German against the same one in English: nothing of it is English.
func spoken(t *testing.T, what string, english, own web.Problem) {
	t.Helper()
	pairs := [][2]string{{english.Title, own.Title}, {english.Detail, own.Detail}}
	require.Len(t, own.Errors, len(english.Errors), what)
	for i := range own.Errors {
		require.Equal(t, english.Errors[i].Pointer, own.Errors[i].Pointer)
		pairs = append(pairs, [2]string{english.Errors[i].Detail, own.Errors[i].Detail})
	}
	for _, pair := range pairs {
		assert.NotEqual(t, pair[0], pair[1], what)
		assert.NotRegexp(t, englishInAll, named.ReplaceAllString(pair[1], ""), "%s: %s", what, pair[1])
		assert.NotContains(t, pair[1], "%!", what)
	}
}

// breaches are all ways to break one rule of a schema with a value that fits it, each with what was broken.
func breaches(s *openapi3.Schema, good any, put func(any) tree) (all map[string]tree) {
	all = map[string]tree{}
	add := func(rule string, value any) { all[rule] = put(value) }
	for name, value := range map[string]any{"text": "x", "number": 1.5, "list": []any{}, "object": tree{}, "flag": true, "null": nil} {
		add("not "+name, value)
	}
	if s.Min != nil {
		add("below", *s.Min-1)
		add("at", *s.Min)
	}
	if s.Max != nil {
		add("above", *s.Max+1)
	}
	if s.Type.Is(openapi3.TypeString) {
		add("empty", "")
		add("control", "a\tb. The end\x01")
		if s.MaxLength != nil {
			add("long", strings.Repeat("a", int(*s.MaxLength)+1))
		}
		if len(s.Enum) > 0 {
			add("near", fmt.Sprint(s.Enum[0])+"s")
		}
		add("far", "Of the wood. Not it.")
	}
	if list, isList := good.([]any); isList {
		add("empty", []any{})
		many := slices.Clone(list)
		for s.MaxItems != nil && len(many) <= int(*s.MaxItems) {
			many = append(many, list[0])
		}
		add("many", many)
		for rule, body := range breaches(s.Items.Value, list[0], func(value any) tree { return put([]any{value}) }) {
			all["item "+rule] = body
		}
	}
	if object, isObject := good.(tree); isObject {
		with := func(name string, value any) tree {
			own := maps.Clone(object)
			own[name] = value
			return own
		}
		add("far property", with("quite_another", 1))
		for name, property := range s.Properties {
			add("near "+name, with(name+"s", 1))
			if value, there := object[name]; there {
				own := maps.Clone(object)
				delete(own, name)
				add("without "+name, own)
				for rule, body := range breaches(property.Value, value, func(value any) tree { return put(with(name, value)) }) {
					all[name+": "+rule] = body
				}
			}
		}
	}
	return all
}

// Whatever a page of the order form asks in German is refused in German: each rule of the spec broken in every way, what is no JSON,
// what a query, a header, a key or the state of the service is refused for, and what cannot be made.
func TestTheFormRefusesInGerman(t *testing.T) {
	t.Parallel()
	c := newClient(t, healthy(t))
	document, err := openapi.Document()
	require.NoError(t, err)
	top := deskOf("mm", "l")
	top["turns"], top["front_edge"], top["finish"], top["room"] = "left", "rounded", "oiled", "heated"
	top["corners"] = []any{tree{"angle": 92.5}}
	top["openings"] = []any{tree{"for": "sink", "side": 1, "long": 500, "deep": 400, "from_left": 1400, "from_front": 100, "shape": "oval", "mount": "under"}}
	top["base"] = []any{tree{"side": 1, "kind": "cabinet", "from": 0, "to": 1200}}
	order := orderedBy("Robin Example")
	order["top"], order["leave_empty"] = deskOf("mm", "straight"), ""
	order["contact"].(tree)["phone"] = "+00 000 0000"
	bodies := map[string]tree{"/v1/order-form/estimates": top, requestsPath: order,
		"/v1/order-form/angles": {"units": "mm", "along_first": 900, "along_second": 1200, "across": 1500}}
	refused := 0
	ask := func(what, path string, do func(path string) answer) {
		t.Helper()
		english, own := do(path+"?language=en"), do(path+"?language=de")
		require.Equal(t, english.status, own.status, what)
		if own.status < 400 {
			return
		}
		refused++
		spoken(t, path+" "+what, english.problem(t), own.problem(t))
	}
	for path, good := range bodies {
		s := document.Paths.Value(path).Post.RequestBody.Value.Content.Get("application/json").Schema.Value
		for what, body := range breaches(s, good, func(value any) tree { return tree{"": value} }) {
			sent := text(t, body[""])
			ask(what, path, func(path string) answer { return c.post(t, path, sent) })
		}
		for _, raw := range []string{``, "\ufeff{}", "{\"a\":\"\xff\"}", `{} {}`, `{`, `{"a"`, `{"a":`, `{"a":NaN}`, `{'a':1}`, `{"a":'b'}`,
			`{"a":1`, `{"a":1,}`, `{"a":[1`, `{"a":-x}`, `{"a":1.x}`, `{"a":1ex}`, `{"a":1,"a":2}`, `{"a":x}`, `{"a":"b`, `{"a":"\x"}`, `{"a":"\u12"}`, `{"a":"` + "\n" + `"}`,
			`{"units":"mm","along_first":1e999}`, `[`, strings.Repeat("[", 200), "[" + strings.Repeat("0,", 200000) + "0]"} {
			ask(fmt.Sprintf("%.20q", raw), path, func(path string) answer { return c.post(t, path, raw) })
		}
		for _, header := range [][]string{{"Content-Type", ""}, {"Content-Type", "text/plain"}, {"Content-Type", "application/json; charset=latin1"},
			{"Content-Encoding", "br"}, {"Content-Encoding", "gzip"}} {
			ask(header[1], path, func(path string) answer { return c.post(t, path, text(t, good), header...) })
		}
		ask("size", path, func(path string) answer { return c.post(t, path, strings.Repeat(" ", 5<<20)) })
		for _, query := range []string{"&languages=1", "&quite=1", "&language=de", "&language=%00", "&%zz=1"} {
			ask(query, path, func(path string) answer { return c.post(t, path+query, text(t, good)) })
		}
	}
	require.Greater(t, refused, 500)
	for _, query := range []string{"?units=xx", "?units=x%00", "?unit=mm"} {
		spoken(t, query, c.get(t, "/v1/order-form"+query+"&language=en").problem(t), c.get(t, "/v1/order-form"+query+"&language=de").problem(t))
	}
	for i, wrong := range []func(tree){
		func(o tree) { o["sides"].([]any)[0].(tree)["long"] = 1e4 }, func(o tree) { o["sides"] = []any{tree{"long": 700, "deep": 640}, tree{"long": 2400, "deep": 640}} },
		func(o tree) { o["wood"] = "teak" }, func(o tree) { o["shape"] = "u" }, func(o tree) { o["openings"].([]any)[0].(tree)["from_left"] = 0 },
		func(o tree) { o["openings"].([]any)[0].(tree)["from_left"] = 2300 }, func(o tree) { o["openings"].([]any)[0].(tree)["side"] = 3 },
		func(o tree) { o["front_edge"], o["thickness"] = "rounded", "25.4" },
		func(o tree) { o["base"] = []any{tree{"side": 1, "kind": "cabinet", "from": 600, "to": 600}} },
		func(o tree) { o["base"] = []any{tree{"side": 1, "kind": "open", "from": 0, "to": 2400}} }} {
		own := deskOf("mm", "l")
		own["openings"] = []any{tree{"for": "sink", "side": 1, "long": 500, "deep": 400, "from_left": 1400}}
		wrong(own)
		ask(strconv.Itoa(i), "/v1/order-form/estimates", func(path string) answer { return c.post(t, path, text(t, own)) })
	}
	ask("no triangle", "/v1/order-form/angles",
		func(path string) answer {
			return c.post(t, path, `{"units":"mm","along_first":1,"along_second":1,"across":9}`)
		})
}

// So it is where a call is not let in, and where the service cannot answer; in the shop's language when the call names none.
func TestTheFormIsClosedInGerman(t *testing.T) {
	t.Parallel()
	cat := *storetest.Demo(t)
	cat.Settings.ShopLanguage = "de"
	closed := cat
	closed.Settings.FormWoods = "none_such"
	closed.Index()
	for what, change := range map[string]func(*api.Config){
		"no catalogue": func(c *api.Config) { c.Snapshot = func() *catalogue.Snapshot { return nil } },
		"no database":  func(*api.Config) {},
		"closed":       func(c *api.Config) { c.Snapshot = snapshotOf(&closed) },
	} {
		config := healthy(t)
		config.Snapshot = snapshotOf(&cat)
		change(&config)
		c := newClient(t, config)
		path, body := "/v1/order-form/estimates", text(t, deskOf("mm", "l"))
		if what == "no database" {
			path, body = requestsPath, text(t, orderedBy("Robin Example"))
		}
		english, own := c.post(t, path+"?language=en", body), c.post(t, path+"?language=de", body)
		require.Equal(t, http.StatusServiceUnavailable, own.status, what)
		spoken(t, what, english.problem(t), own.problem(t))
		if what != "no catalogue" {
			require.Equal(t, own.problem(t).Detail, c.post(t, path, body).problem(t).Detail, "the shop's language")
		}
	}
}

// said is what a call in the source says, with 7 for what it puts in; empty for what is no text that is written there.
func said(e ast.Expr) string {
	switch e := e.(type) {
	case *ast.BasicLit:
		text, err := strconv.Unquote(e.Value)
		if e.Kind != token.STRING || err != nil {
			return ""
		}
		return text
	case *ast.BinaryExpr:
		left, right := said(e.X), said(e.Y)
		if left == "" && right == "" {
			return ""
		}
		for _, side := range []*string{&left, &right} {
			if *side == "" {
				*side = "7"
			}
		}
		return left + right
	case *ast.CallExpr:
		if name, isOf := e.Fun.(*ast.SelectorExpr); isOf && name.Sel.Name == "Sprintf" {
			return regexp.MustCompile(`%[+#.0-9]*[a-z]`).ReplaceAllString(said(e.Args[0]), "7")
		}
	}
	return ""
}

// What the source of the ways from the form's operations to a refusal says there is known in German, whether or not a test gets there.
// Left out is by name what no operation of the form says.
func TestEveryRefusalInTheSourceHasItsGerman(t *testing.T) {
	t.Parallel()
	speaker, err := speak.In("de")
	require.NoError(t, err)
	elsewhere := map[string]bool{}
	for _, text := range []string{
		"The path has characters that no name of a thing has.", "Must not be before from.",
		"A summary has no workings; leave out fields=summary, or explain.", "This needs a key with the scope 7 as well.",
		"A publishable key is for the order form only.", "Pages of this origin may not make that call.",
		"7 Try again in 7 s.", "Write it as an amount of money, such as 5.00.", "Write it as a plain decimal of at most 12 characters, such as 7.5.",
		"Must be a whole number, written plainly.", "Must be a day of the calendar as YYYY-MM-DD, such as 2026-11-01.",
	} {
		elsewhere[text] = true
	}
	texts := map[string]string{}
	for _, pattern := range []string{"body/*.go", "wire/check.go", "wire/reader.go", "wire/text.go", "counter/*.go", "web/body.go", "web/call.go",
		"web/deadline.go", "web/expand.go", "web/guard.go", "web/idempotency.go", "web/turns.go", "web/away.go", "web/problem.go", "../service/measure/number.go"} {
		files, err := filepath.Glob(pattern)
		require.NoError(t, err)
		require.NotEmpty(t, files, pattern)
		for _, file := range files {
			if strings.HasSuffix(file, "_test.go") {
				continue
			}
			parsed, err := parser.ParseFile(token.NewFileSet(), file, nil, 0)
			require.NoError(t, err)
			note := func(e ast.Expr) {
				if text := said(e); strings.Contains(text, " ") {
					texts[text] = file
				}
			}
			ast.Inspect(parsed, func(n ast.Node) bool {
				switch n := n.(type) {
				case *ast.KeyValueExpr:
					if key, isName := n.Key.(*ast.Ident); isName && (key.Name == "Detail" || key.Name == "Fix") {
						note(n.Value)
					}
				case *ast.CallExpr:
					name := ""
					switch f := n.Fun.(type) {
					case *ast.Ident:
						name = f.Name
					case *ast.SelectorExpr:
						name = f.Sel.Name
					}
					if at := map[string]int{"Refuse": 1, "Limited": 2, "Wrong": 1, "wrong": 0, "AsBody": 1, "add": 1}; at[name] < len(n.Args) {
						if _, says := at[name]; says {
							note(n.Args[at[name]])
						}
					}
					if name == "refuse" {
						for _, arg := range n.Args {
							note(arg)
						}
					}
				case *ast.ReturnStmt:
					for _, result := range n.Results {
						if text := said(result); strings.HasSuffix(text, ".") {
							note(result)
						}
					}
				}
				return true
			})
		}
	}
	require.Greater(t, len(texts), 70)
	for text, file := range texts {
		text := regexp.MustCompile(`%[a-z]`).ReplaceAllString(text, "7")
		if left := elsewhere[text]; left {
			delete(elsewhere, text)
			continue
		}
		assert.True(t, speaker.Drawings.Knows(text), "%s: %s", file, text)
	}
	assert.Empty(t, elsewhere, "nothing says this any more")
}

// A page whose key has ended, is used elsewhere or is used too often reads why in its language.
func TestKeysOfTheFormAreRefusedInGerman(t *testing.T) {
	t.Parallel()
	g := newGuarded(t, func(c *api.Config) { c.FormLimit = 2 })
	key, _ := g.key(t, keys.Publishable, "https://shop.example")
	path := "/v1/order-form/estimates?language="
	body := text(t, deskOf("mm", "l"))
	send := func(language string, header ...string) web.Problem {
		return g.client.post(t, path+language, body, header...).problem(t)
	}
	for what, header := range map[string][]string{"no key": nil, "unknown": {"Authorization", "Bearer nonsense"},
		"elsewhere": {"Authorization", "Bearer " + key, "Origin", "https://else.example"}} {
		spoken(t, what, send("en", header...), send("de", header...))
	}
	good := []string{"Authorization", "Bearer " + key, "Origin", "https://shop.example"}
	for range 2 {
		require.Equal(t, http.StatusOK, g.client.post(t, path+"de", body, good...).status)
	}
	own := send("de", good...)
	require.Equal(t, http.StatusTooManyRequests, own.Status)
	spoken(t, "limit", send("en", good...), own)
	require.Contains(t, own.Detail, "Die Grenze der Anfragen ist erreicht. Versuchen Sie es in ")
}
