package counter

import (
	"context"

	"seamwright/api/web"
	"seamwright/service/catalogue"
	"seamwright/service/estimate"
)

// room is where customers ask.
type room struct {
	*web.Server
	draft KeepDraft
}

// KeepDraft keeps the draft of an offer for the shop, in the transaction of ctx.
type KeepDraft func(ctx context.Context, id string, d *Draft, cat *catalogue.Snapshot) error

// Draft is what an offer is made of that a customer asked for.
type Draft struct {
	Reference, Note    string
	ValidDays          int
	Name, Email, Phone string
	Request            []byte // for the estimate
	Estimate           *estimate.Estimate
}
