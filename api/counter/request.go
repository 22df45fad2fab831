package counter

import (
	"context"
	"crypto/sha256"
	"errors"
	"net/http"
	"net/mail"
	"strings"
	"time"
	"unicode"

	"seamwright/api/access"
	"seamwright/api/web"
	"seamwright/api/wire"
	"seamwright/service/catalogue"
	"seamwright/service/fault"
	"seamwright/service/orderform"
	"seamwright/store/counter"
)

// customerOrder is a top with contact data.
type customerOrder struct {
	top     orderform.Request
	name    string
	email   string
	phone   string
	message string
	sent    []byte // the top as it was sent, with its properties in order
}

// sameWithin is how long the same content gets the first reference.
const sameWithin = 24 * time.Hour

func (s *room) postOrderFormRequest(c *web.Call) error {
	speech, order, err := asked(c, readCustomerOrder)
	if err != nil {
		return err
	}
	done, err := s.inTurn(c, order.top, speech)
	if err != nil {
		return fault.At("/top", err) // where the top stands in a request for an offer
	}
	reference, err := s.keepCustomerOrder(c, &order, done, c.Cat)
	if err != nil {
		return err
	}
	return c.Send(http.StatusCreated, web.Value(struct {
		Reference string `json:"reference"`
		Next      string `json:"next"`
	}{reference, done.form.Next}))
}

// keepCustomerOrder keeps a top that was worked out, with what the customer saw.
func (s *room) keepCustomerOrder(c *web.Call, order *customerOrder, done *customerDone,
	cat *catalogue.Snapshot) (reference string, err error) {
	now := s.Now()
	inShop, err := web.InShop(now, cat)
	if err != nil {
		return "", err
	}
	shown := wire.Encode(order.top.Units, func(w *wire.Writer) { writeCustomerAnswer(w, &done.answer, "") })
	content := sha256.Sum256([]byte(strings.Join([]string{string(order.sent), order.name, order.email, order.phone,
		order.message}, "\x00")))
	sender := sha256.Sum256([]byte(string(web.DayOf(inShop)) + "\x00" + access.Network(c.RealIP())))
	start := time.Date(inShop.Year(), inShop.Month(), inShop.Day(), 0, 0, 0, 0, inShop.Location())
	name := wire.NewID("form")
	draft, id := draftOf(order, done, name, cat), wire.NewID("quote")
	reference, err = s.Store.Counter.Keep(c.Ctx(), counter.Request{
		Reference: name, Quote: id, CreatedAt: now, Content: content[:], Sender: sender[:],
		Name: order.name, Email: order.email, Phone: order.phone, Message: order.message,
		Request: order.sent, Estimate: done.order, Shown: shown, Revision: cat.Revision,
	}, counter.Limits{SameSince: now.Add(-sameWithin), DayStart: start,
		FromSender: cat.Settings.FormDayLimit, FromAll: cat.Settings.FormDayTotal},
		func(ctx context.Context) error { return s.draft(ctx, id, draft, cat) })
	if errors.Is(err, counter.ErrFull) {
		return "", web.Limited(c, time.Hour,
			"No more requests are taken today from here. Call the shop, or ask again tomorrow.")
	}
	return reference, err
}

// noteOf is what the customer wrote, and what the form showed where that is a range: a price that it shows is the draft's total.
func noteOf(message string, done *customerDone) string {
	a := &done.answer
	if a.Exact {
		return message
	}
	return strings.TrimSpace(message + "\n\nThe order form showed " + a.From.String() + " to " + a.To.String() + " " + a.Currency +
		"; this draft comes to " + done.est.Price.Total.String() + ".")
}

// draftOf is what the shop makes an offer of.
func draftOf(order *customerOrder, done *customerDone, reference string, cat *catalogue.Snapshot) *Draft {
	return &Draft{Reference: reference, Note: noteOf(order.message, done), ValidDays: cat.Settings.FormValidDays,
		Name: order.name, Email: order.email, Phone: order.phone,
		Request: done.order, Estimate: done.est}
}

func readCustomerOrder(o *wire.Object) customerOrder {
	top, contact := o.Child("top"), o.Child("contact")
	order := customerOrder{top: readCustomer(top), name: strings.TrimSpace(contact.Line("name")),
		email: contact.Text("email"),
		phone: contact.Line("phone"), message: strings.TrimSpace(o.Prose("message"))}
	if contact.Has("name") && (order.name == "" || !visible(order.name)) {
		contact.Wrong("name", "Write a name of visible characters, on one line.")
	}
	if contact.Has("email") && !goodAddress(order.email) {
		contact.Wrong("email", "This is no e-mail address, such as name@example.com.")
	}
	if o.Has("consent") && !o.Flag("consent") {
		o.Wrong("consent", "Must be true: without it the shop may not keep your contact data, and cannot answer.")
	}
	order.sent = top.Sent()
	return order
}

func visible(text string) bool {
	return !strings.ContainsFunc(text, func(r rune) bool { return !unicode.IsPrint(r) })
}

// goodAddress accepts a bare address that can stand in a header: nothing but what a mail server delivers to.
func goodAddress(text string) bool {
	address, err := mail.ParseAddress(text)
	if err != nil || address.Name != "" || address.Address != text || !visible(text) ||
		strings.ContainsAny(text, " \"<>,;:\\") {
		return false
	}
	_, host, _ := strings.Cut(text, "@")
	return strings.Contains(strings.Trim(host, "."), ".")
}
