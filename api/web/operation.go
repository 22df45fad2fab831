package web

import (
	"fmt"
	"net/http"
	"strings"

	"github.com/getkin/kin-openapi/openapi3"
	"github.com/labstack/echo/v4"

	"seamwright/api/wire"
	"seamwright/openapi"
	"seamwright/service/fault"
)

// operation is what the spec says of one operation, made ready for its calls.
type operation struct {
	method      string
	path        string // as the router writes it
	published   string // method and path as the spec writes them, for the trail
	scope       string // that a key must have; empty: whoever comes
	publishable bool   // a publishable key will do
	parameters  []parameter
	inPath      []parameter
	nothing     fault.Kind // of a path that names nothing which could be
	known       []string   // the parameters' names
	waits       bool       // takes at_least_revision
	writes      bool       // says who writes, and in which state
	keyed       bool       // keeps its answers under Idempotency-Key, but for operations that do so themselves
	changes     bool       // may change the catalogue
	changesKeys bool       // of access
	prefers     bool       // may be answered with headers alone
	database    bool       // cannot be answered from memory
	catalogue   bool       // is not answered before the catalogue is loaded
	computes    bool       // works something out and does nothing else
	streams     bool       // its body is a stream that has no Idempotency-Key of the table's
	form        func() (wire.Form, error)
}

// Headers and parameters that the table reads itself.
const (
	keyHeader   = "Idempotency-Key"
	actorHeader = "X-Actor"
	// revisionParameter is how a caller asks for an answer from a revision of the catalogue or a later one.
	revisionParameter = "at_least_revision"
)

const (
	scopeMark       = "x-scope"
	publishableMark = "x-publishable"
	ownKeys         = "x-own-idempotency" // an operation that keeps its keys itself
)

// operations is the one table of what is served, by method, a blank, and the path as the router writes it.
type operations map[string]*operation

// newOperations makes the table of the spec.
func newOperations() (operations, error) {
	document, err := openapi.Document()
	if err != nil {
		return nil, err
	}
	table := operations{}
	for path, item := range document.Paths.Map() {
		for method, said := range item.Operations() {
			op, err := newOperation(method, path, said)
			if err != nil {
				return nil, err
			}
			op.pathHas(item.Parameters)
			op.pathHas(said.Parameters)
			table[op.method+" "+op.path] = op
		}
	}
	return table, nil
}

func newOperation(method, path string, said *openapi3.Operation) (*operation, error) {
	op := &operation{method: method, path: strings.NewReplacer("{", ":", "}", "").Replace(path),
		published: method + " " + path}
	op.nothing = fault.NotFound
	if said.Responses.Status(http.StatusNotFound) == nil {
		op.nothing = fault.Invalid
	}
	op.scope, _ = said.Extensions[scopeMark].(string)
	op.publishable, _ = said.Extensions[publishableMark].(bool)
	if op.scope == "" && strings.HasPrefix(path, "/v1/") {
		return nil, fmt.Errorf("the spec says of %s not what scope it needs", op.published)
	}
	key := said.Parameters.GetByInAndName(openapi3.ParameterInHeader, keyHeader) != nil
	op.streams = said.Extensions[ownKeys] != nil
	op.keyed = key && !op.streams
	op.writes = said.Parameters.GetByInAndName(openapi3.ParameterInHeader, actorHeader) != nil
	op.prefers = said.Parameters.GetByInAndName(openapi3.ParameterInHeader, preferHeader) != nil
	op.changes = method != http.MethodGet && (op.scope == "catalogue:write" || op.scope == "prices:write")
	op.changesKeys = method != http.MethodGet && strings.HasPrefix(path, "/v1/keys")
	for _, ref := range said.Parameters {
		switch p := ref.Value; {
		case p.In != openapi3.ParameterInQuery:
		case p.Name == revisionParameter:
			op.waits = true
		default:
			op.parameters = append(op.parameters, newParameter(p))
			op.known = append(op.known, p.Name)
		}
	}
	// What is worked out from the catalogue and not kept is answered from memory: estimates, and reads that can wait for a
	// revision of the catalogue.
	op.database = op.scope != "" && (key || op.scope != "estimate" && !op.waits)
	op.computes = op.scope == "estimate" && op.method == http.MethodPost
	op.catalogue = op.scope != "" && op.scope != "keys:admin"
	op.form = formOfBody(op.published, said)
	return op, nil
}

// pathHas notes the parameters of the path among others.
func (op *operation) pathHas(all openapi3.Parameters) {
	for _, ref := range all {
		if ref.Value.In == openapi3.ParameterInPath {
			op.inPath = append(op.inPath, newParameter(ref.Value))
		}
	}
}

// formOfBody is what a body in JSON must look like, made when it is first needed.
func formOfBody(name string, said *openapi3.Operation) func() (wire.Form, error) {
	if said.RequestBody != nil {
		if media := said.RequestBody.Value.Content.Get(echo.MIMEApplicationJSON); media != nil && media.Schema != nil {
			return wire.FormFrom(media.Schema.Value)
		}
	}
	return func() (wire.Form, error) { return wire.Form{}, fmt.Errorf("%s takes no JSON", name) }
}
