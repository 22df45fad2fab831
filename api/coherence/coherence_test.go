package coherence_test

import (
	"encoding/json"
	"flag"
	"os"
	"runtime/debug"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/api/estimates"
	"seamwright/service/catalogue"
	"seamwright/service/fault"
	"seamwright/store/storetest"
)

// The orders that are drawn when nobody says -rapid.checks and -rapid.seed: the same ones each time, so that what fails was brought by the
// change at hand. -rapid.seed=0 draws new ones; a survey with many of them (-rapid.checks=20000) belongs to every change of the joints.
const (
	draws = "2000"
	seed  = "20261129"
)

// Answers are made, read and thrown away by the thousand: the collector comes less often than it does in a service.
func TestMain(m *testing.M) {
	debug.SetGCPercent(400)
	for name, value := range map[string]string{"rapid.checks": draws, "rapid.seed": seed} {
		if err := flag.Set(name, value); err != nil {
			panic(err)
		}
	}
	os.Exit(m.Run()) // parses the flags of the command line over these
}

var noon = time.Date(2026, 11, 25, 12, 0, 0, 0, time.UTC)

// ask sends a body as POST /v1/estimates reads it and returns the answer's JSON. A refusal must be one that the sender can act on.
func ask(t tester, body map[string]any, cat *catalogue.Snapshot) (answer node, refused []string) {
	t.Helper()
	raw, err := json.Marshal(body)
	if err != nil {
		t.Fatalf("no JSON: %v", err)
	}
	est, err := estimates.Make(raw, cat, noon, false)
	if err != nil {
		for _, f := range fault.All(err) {
			if f.Kind != fault.Impossible || f.Pointer == "" || f.Detail == "" {
				t.Fatalf("refused as the sender cannot understand: %v (%s)", f, raw)
			}
			refused = append(refused, f.Error())
		}
		return node{}, refused
	}
	return readNode(t, estimates.Encode(est)), nil
}

// Whatever is ordered, every part of the answer agrees with every other one.
func TestThePartsOfAnyAnswerAgree(t *testing.T) {
	cat := storetest.Demo(t)
	answered, all := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		o := drawOrder(t)
		all++
		answer, refused := ask(t, o.body, cat)
		if refused != nil {
			return
		}
		answered++
		newAnswer(answer, o).agrees()
	})
	require.Greater(t, 3*answered, 2*all, "too many drawn orders were refused: %d of %d were answered", answered, all)
}

// agrees holds every part of an answer against every other one.
func (a *answer) agrees() {
	a.season()
	a.rest()
	a.glue()
	a.hardware()
	a.geometry()
	a.wood()
	a.labour()
	a.money()
	a.supplies()
	a.said()
}
