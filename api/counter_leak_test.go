package api_test

import (
	"context"
	"fmt"
	"log/slog"
	"maps"
	"net/http"
	"regexp"
	"sort"
	"strings"
	"testing"
	"time"

	"github.com/getkin/kin-openapi/openapi3"
	"github.com/stretchr/testify/require"

	"seamwright/api/estimates"
	"seamwright/openapi"
	"seamwright/service/catalogue"
	"seamwright/store"
	"seamwright/store/storetest"
)

// allowed is all that a customer may see, by place.
var allowed = []string{
	"cautions[]", "corners[]", "currency", "includes[]", "plan.base[].kind", "plan.base[].outline[][]", "plan.base[].side",
	"plan.front[][]", "plan.openings[].for",
	"plan.openings[].outline[][]",
	"plan.openings[].side", "plan.outline[][]", "plan.pieces[][][]", "plan.sides[].deep", "plan.sides[].long",
	"plan.sides[].wall[][]", "price.deposit", "price.from", "price.includes_tax",
	"price.to", "price.total", "seasons", "site_visit", "summary", "units", "valid_until", "view", "working_days",
}

// OWASP API3 Broken Object Property Level Authorization: an answer to a customer holds what the list above names. Every
// answer in these tests is held against the closed schema, so a property that is not in it cannot go out.
func TestOWASP3TheCustomersAnswerHasNothingButWhatMayBeSeen(t *testing.T) {
	t.Parallel()
	document, err := openapi.Document()
	require.NoError(t, err)
	var places []string
	var walk func(at string, s *openapi3.Schema)
	walk = func(at string, s *openapi3.Schema) {
		switch {
		case s.Type.Is("object"):
			require.NotNil(t, s.AdditionalProperties.Has, at)
			require.False(t, *s.AdditionalProperties.Has, "%s is open", at)
			for name, property := range s.Properties {
				walk(strings.TrimPrefix(at+"."+name, "."), property.Value)
			}
		case s.Type.Is("array"):
			walk(at+"[]", s.Items.Value)
		default:
			places = append(places, at)
		}
	}
	walk("", document.Components.Schemas["OrderFormEstimate"].Value)
	sort.Strings(places)
	require.Equal(t, allowed, places)
	places = nil
	walk("", document.Components.Schemas["OrderFormReceipt"].Value)
	require.ElementsMatch(t, []string{"reference", "next"}, places)
}

// mark is in every internal text of the marked catalogue.
const mark = "zqx"

// markedCatalogue is the seeded catalogue with a mark in every text that is no customer's business.
func markedCatalogue(t testing.TB) *catalogue.Snapshot {
	t.Helper()
	ctx, cancel := context.WithTimeout(t.Context(), time.Minute)
	defer cancel()
	s, err := store.Open(ctx, storetest.New(t), slog.New(slog.DiscardHandler))
	require.NoError(t, err)
	defer s.Close()
	cat, err := s.Shelf.Load(ctx)
	require.NoError(t, err)
	packs := func(list []catalogue.Pack) {
		for i := range list {
			for k := range list[i].Prices {
				list[i].Prices[k].Supplier = mark + "_supplier"
			}
		}
	}
	renamed := map[string]string{}
	rename := func(code *string) {
		if renamed[*code] == "" {
			renamed[*code] = fmt.Sprintf("%s_%s", mark, *code)
		}
		*code = renamed[*code]
	}
	for i := range cat.Materials {
		m := &cat.Materials[i]
		rename(&m.Code)
		m.Name = mark + m.Name
		packs(m.Packs)
		if m.Lumber != nil {
			m.Lumber.Grade = mark + "_grade"
		}
		if m.Finish != nil {
			rename(&m.Finish.System)
		}
	}
	for i := range cat.Materials {
		if s := cat.Materials[i].Sundry; s != nil && s.Finish != "" {
			rename(&s.Finish)
		}
	}
	for i := range cat.Fasteners {
		rename(&cat.Fasteners[i].Code)
		cat.Fasteners[i].Name = mark + cat.Fasteners[i].Name
		packs(cat.Fasteners[i].Packs)
	}
	for i := range cat.LabourRoles {
		rename(&cat.LabourRoles[i].Code)
		cat.LabourRoles[i].Name = mark
	}
	for i := range cat.LabourStandards {
		l := &cat.LabourStandards[i]
		rename(&l.Code)
		rename(&l.Role)
		l.Name, l.Note = mark+l.Name, mark
		for k := range l.After {
			rename(&l.After[k])
		}
	}
	for i := range cat.ClimateProfiles {
		p := &cat.ClimateProfiles[i]
		rename(&p.Code)
		p.Name, p.Note = mark, mark
	}
	set := &cat.Settings
	for _, list := range []*string{&set.FormFinishes, &set.FormRooms} {
		words, err := catalogue.Words(*list)
		require.NoError(t, err)
		var out []string
		for _, w := range words {
			if w.Code != "none" {
				rename(&w.Code)
			}
			out = append(out, w.Word+"="+w.Code)
		}
		*list = strings.Join(out, " ")
	}
	rename(&set.DefaultProfile)
	// the species: the code is the word that a customer sends; what else is known of it is not for him
	for i := range cat.Species {
		cat.Species[i].Botanical = mark
		cat.Species[i].Tangential.Note = mark
	}
	cat.Revision = 987654321
	return cat.Index()
}

var (
	// whichCorner is how a top of several corners says which one it means: by the customer's own sides.
	whichCorner = regexp.MustCompile(`corner [12] \(sides [12] and [23]\)`)

	numbers  = regexp.MustCompile(`\d+(?:\.\d+)?`)
	tooTrade = regexp.MustCompile(`(?i)\b(runs?|miter|butt|species|cut-?outs?|profiles?|joint|margin|mark-?up|kerf|stave|lumber|supplier|catalogue|finding|score|labour|wages?)\b|/top/runs|hardwax|` + mark)
)

func numbersIn(value any) map[string]bool {
	out := map[string]bool{}
	for _, n := range numbers.FindAllString(fmt.Sprint(value), -1) {
		out[n] = true
	}
	return out
}

// Whatever the shop knows and a customer must not (names, codes, suppliers, notes, the revision) is marked, and no mark
// comes out; and each number in the answer is one that the customer sent or may know.
func TestOWASP3NothingInternalLeaksFromTheCatalogue(t *testing.T) {
	t.Parallel()
	marked := markedCatalogue(t)
	config := healthy(t)
	config.Snapshot = func() *catalogue.Snapshot { return marked }
	c := newClient(t, config)
	for _, shape := range []string{"straight", "l", "u"} {
		wanted := deskOf("mm", shape)
		wanted["front_edge"] = "rounded"
		wanted["openings"] = []any{tree{"for": "sink", "side": 1, "long": 560, "deep": 400, "from_left": 800}}
		wanted["base"] = []any{tree{"side": 1, "kind": "cabinet", "from": 700, "to": 1800}}
		a := c.post(t, "/v1/order-form/estimates", text(t, wanted))
		require.Equal(t, http.StatusOK, a.status, string(a.body))
		require.NotContains(t, string(a.body), mark)
		require.NotContains(t, string(a.body), "987654321")

		est, err := estimates.Make([]byte(orderOf(t, wanted, marked)), marked, noon, false)
		require.NoError(t, err)
		require.Contains(t, fmt.Sprint(est.Bill), mark, "the marks are where they can be seen")
		answer := a.tree(t)
		price := answer["price"].(tree)
		require.Equal(t, est.Price.Total.String(), price["total"])
		require.Zero(t, est.Price.Total.Cmp(est.Price.Total.RoundToStep(marked.Settings.FormRoundTo)))
		require.InDelta(t, float64(est.Labour.WorkingDays), answer["working_days"], 0)

		internal := map[string]bool{}
		for _, value := range []any{est.Price.Materials, est.Price.Hardware, est.Price.Consumables, est.Price.Labour,
			est.Price.Overhead, est.Price.Contingency,
			est.Price.Cost, est.Price.Margin, est.Labour.Hours, est.Labour.CriticalPathHours, est.Labour.Cost,
			est.Price.Range.P80, est.Price.Range.P90} {
			maps.Copy(internal, numbersIn(value))
		}
		for _, line := range est.Bill {
			maps.Copy(internal, numbersIn(line.Amount))
			maps.Copy(internal, numbersIn(line.UnitPrice))
		}
		for _, step := range est.Labour.Steps {
			maps.Copy(internal, numbersIn(step.Amount))
			maps.Copy(internal, numbersIn(step.Rate))
			maps.Copy(internal, numbersIn(step.Minutes.Expected))
		}
		require.Greater(t, len(internal), 40)

		known := numbersIn(text(t, wanted)) // what the customer sent
		for _, also := range []any{marked.Settings.FormIncluded, marked.Settings.FormSiteNote} {
			maps.Copy(known, numbersIn(also))
		}
		widest := est.Runs[0].Movement.Range.Millimetres()
		said := text(t, []any{answer["summary"], answer["includes"], answer["corners"], answer["cautions"], answer["seasons"]})
		for said := range numbersIn(whichCorner.ReplaceAllString(said, "")) {
			if known[said] {
				continue
			}
			var x float64
			_, err := fmt.Sscan(said, &x)
			require.NoError(t, err)
			isMovement := x >= widest-1e-9 && x < widest+2 && x == float64(int(x)/2*2)
			// 1: the one opening
			require.True(t, isMovement || said == "1", "%s in the answer is neither the customer's nor what the wood does: %s",
				said, a.body)
		}
		for name, amount := range price {
			if text, isText := amount.(string); isText {
				require.False(t, internal[text], "%s %s is a figure of the shop", name, text)
			}
		}
	}
}
