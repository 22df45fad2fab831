// Package quote holds the rules of stored offers: what may become of one, what changed between two revisions of one,
// and how far the catalogue has moved away from one.
package quote

import "slices"

// Status is where an offer stands.
type Status string

// The statuses.
const (
	Draft     Status = "draft"     // being worked on; the customer has not seen it
	Sent      Status = "sent"      // with the customer
	Accepted  Status = "accepted"  // the customer took it
	Declined  Status = "declined"  // the customer did not
	Expired   Status = "expired"   // its validity ran out before the customer answered
	Withdrawn Status = "withdrawn" // the shop took it back
)

// moves are the only ways from one status to another. An offer that was declined or has expired can be taken up again
// as a draft; what was accepted or withdrawn stays so.
var moves = map[Status][]Status{
	Draft:    {Sent, Withdrawn},
	Sent:     {Accepted, Declined, Expired, Withdrawn, Draft},
	Declined: {Draft},
	Expired:  {Draft},
}

// Statuses lists every status.
func Statuses() []Status { return []Status{Draft, Sent, Accepted, Declined, Expired, Withdrawn} }

// Next lists what an offer of this status can become.
func (s Status) Next() []Status { return moves[s] }

// MayBecome says whether an offer of this status can become another.
func (s Status) MayBecome(next Status) bool { return slices.Contains(moves[s], next) }

// Open says whether the offer may still become an order, so that a moved catalogue hurts it.
func (s Status) Open() bool { return s == Draft || s == Sent }

// Revisable says whether the offer can have another revision: it then is a draft again.
func (s Status) Revisable() bool { return s == Draft || s.MayBecome(Draft) }
