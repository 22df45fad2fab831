package api

import (
	"errors"
	"fmt"
	"sync"
	"time"

	"github.com/getkin/kin-openapi/openapi3"

	"seamwright/api/body"
	"seamwright/openapi"
	"seamwright/service/catalogue"
	"seamwright/service/estimate"
	"seamwright/service/fault"
	"seamwright/service/measure"
)

// schema returns a schema of the spec by name.
func schema(name string) (*openapi3.Schema, error) {
	document, err := openapi.Document()
	if err != nil {
		return nil, err
	}
	ref := document.Components.Schemas[name]
	if ref == nil {
		return nil, fmt.Errorf("the spec has no schema %s", name)
	}
	return ref.Value, nil
}

// form is what a body must look like: the schema, and its gate.
type form struct {
	schema *openapi3.Schema
	gate   *gate
}

func formOf(name string) func() (form, error) {
	return sync.OnceValues(func() (form, error) {
		s, err := schema(name)
		if err != nil {
			return form{}, err
		}
		return formFrom(s)()
	})
}

// formFrom makes the form of a schema when it is first needed.
func formFrom(s *openapi3.Schema) func() (form, error) {
	return sync.OnceValues(func() (form, error) {
		g, err := newGate(s)
		return form{s, g}, err
	})
}

var estimateForm = formOf("EstimateRequest")

// check returns every violation of a value.
func (f form) check(value any) fault.List {
	if f.gate.fits(value) {
		return nil
	}
	return check(f.schema, value)
}

// bind reads a body, holds it against the spec and lets read take it over. All that is wrong comes back at once:
// a reader's fault counts unless the spec refused the very same place.
func bind[T any](raw []byte, of func() (form, error), read func(*object) T) (T, error) {
	var none T
	against, err := of()
	if err != nil {
		return none, err
	}
	value, err := body.Parse(raw)
	if err != nil {
		return none, err
	}
	found := against.check(value)
	fields, _ := value.(map[string]any)
	root := &object{reader: &reader{}, index: -1, fields: fields}
	if root.text("units") == "mm" {
		root.reader.units = measure.Millimetres
	}
	bound := read(root)
	found = merge(found, root.reader.faults)
	if len(found) == 0 && root.reader.misfit > 0 {
		return none, errors.New("the spec accepts a body that the binding does not understand")
	}
	return bound, found.Err()
}

func merge(found, more fault.List) fault.List {
	if len(more) == 0 {
		return found
	}
	at := make(map[string]bool, len(found))
	for _, f := range found {
		at[f.Pointer] = true
	}
	for _, f := range more {
		if !at[f.Pointer] {
			found = append(found, f)
		}
	}
	return found
}

// ParseEstimateRequest reads the body of a request for an estimate, with every check that the service makes. The
// day in now (UTC) is the day of the prices when the request names none; MakeEstimate takes the shop's instead. It
// fails with faults that say everything that is wrong.
func ParseEstimateRequest(raw []byte, now time.Time) (estimate.Order, error) {
	order, err := bind(raw, estimateForm, readOrder)
	if err != nil {
		return estimate.Order{}, err
	}
	takeDay(&order, now.UTC())
	return order, nil
}

// takeDay puts in today when an order names no day for its prices, and says so.
func takeDay(order *estimate.Order, now time.Time) []estimate.Assumption {
	if order.Pricing.AsOf != "" {
		return nil
	}
	order.Pricing.AsOf = today(now)
	return []estimate.Assumption{{Pointer: "/pricing/as_of", Value: string(order.Pricing.AsOf), Why: "The request names no day, so the prices are today's (" + now.Location().String() + ")."}}
}

// MakeEstimate reads the body of a request and works out the estimate, as POST /v1/estimates does. A request that names
// no day is priced as of the day that now is in the shop's time zone.
func MakeEstimate(raw []byte, cat *catalogue.Snapshot, now time.Time, explain bool) (*estimate.Estimate, error) {
	now, err := inShop(now, cat)
	if err != nil {
		return nil, err
	}
	order, err := bind(raw, estimateForm, readOrder)
	if err != nil {
		return nil, err
	}
	order.Explain = explain
	return makeEstimate(order, cat, now)
}

// makeEstimate works out an order that was read; now has the shop's zone. Without a day it is priced as of today.
func makeEstimate(order estimate.Order, cat *catalogue.Snapshot, now time.Time) (*estimate.Estimate, error) {
	assumed := takeDay(&order, now)
	if err := priceable(order.Pricing.AsOf, cat); err != nil {
		return nil, err
	}
	maker := borrowMaker(cat)
	defer giveBack(maker)
	est, err := maker.Make(order)
	if err != nil {
		return nil, err
	}
	est.Assumptions = append(est.Assumptions, assumed...)
	return est, nil
}

// compareJoints works out every joint of an order, priced like an estimate.
func compareJoints(order estimate.Order, cat *catalogue.Snapshot, now time.Time) (*estimate.Comparison, error) {
	now, err := inShop(now, cat)
	if err != nil {
		return nil, err
	}
	assumed := takeDay(&order, now)
	if err := priceable(order.Pricing.AsOf, cat); err != nil {
		return nil, err
	}
	maker := borrowMaker(cat)
	defer giveBack(maker)
	comparison, err := maker.Compare(order)
	if err != nil {
		return nil, err
	}
	comparison.Assumptions = append(comparison.Assumptions, assumed...)
	return comparison, nil
}
