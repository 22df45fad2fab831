package api_test

import (
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/openapi"
	"seamwright/service/catalogue"
	"seamwright/service/plan"
	"seamwright/service/sheet"
)

// families are the words of the kinds that go together: where the spec lists one of them, it lists all.
func families() map[string][]string {
	all := map[string][]string{}
	for _, k := range plan.JointKinds() {
		all["joints"] = append(all["joints"], string(k.Kind))
	}
	roles := map[catalogue.FastenerRole]string{catalogue.Aligns: "alignment parts", catalogue.Pulls: "pull parts",
		catalogue.Fixes: "fixings", catalogue.Carries: "parts of a base", catalogue.Refused: "refused"}
	for _, k := range catalogue.FastenerKinds() {
		all[roles[k.Role]] = append(all[roles[k.Role]], string(k.Kind))
	}
	return all
}

var enum = regexp.MustCompile(`type: string, enum: \[([^\]]*)\]`)

// The spec's lists of kinds are those of the tables. What a schema says of some kinds beside such a list (which measures a
// form has) names no type.
func TestTheSpecListsEveryKind(t *testing.T) {
	found := map[string]int{}
	for _, match := range enum.FindAllSubmatch(openapi.YAML(), -1) {
		words := strings.Split(string(match[1]), ", ")
		for family, kinds := range families() {
			if !slices.ContainsFunc(kinds, func(k string) bool { // a look may be straight as well
				return k != string(plan.Straight) && slices.Contains(words, k)
			}) {
				continue
			}
			found[family]++
			if family == "joints" && !slices.Contains(words, string(plan.Straight)) {
				kinds = slices.DeleteFunc(kinds, func(k string) bool { return plan.JointKind(k).InLine() }) // the list is of corners
				found["corners"]++
			}
			require.Subset(t, words, kinds, "%s in %s", family, match[0])
		}
	}
	for family := range families() {
		require.GreaterOrEqual(t, found[family], 3, family)
	}
	require.Less(t, found["corners"], found["joints"], "what is chosen may be a straight joint")
}

// The database takes the kinds of the tables and the conditions that follow from them, and no others.
func TestTheDatabaseTakesEveryKind(t *testing.T) {
	text, err := os.ReadFile("../store/schema.sql")
	require.NoError(t, err)
	listed := func(constraint string) []string {
		line := regexp.MustCompile(`CONSTRAINT ` + constraint + ` CHECK .*`).FindString(string(text))
		require.NotEmpty(t, line, constraint)
		var words []string
		for _, match := range regexp.MustCompile(`'([a-z_]+)'::text`).FindAllStringSubmatch(line, -1) {
			words = append(words, match[1])
		}
		return words
	}
	var kinds []string
	for _, k := range catalogue.FastenerKinds() {
		kinds = append(kinds, string(k.Kind))
	}
	require.ElementsMatch(t, kinds, listed("fastener_kind_is_known"))
	require.Subset(t, listed("item_kind_is_known"), kinds)
	require.ElementsMatch(t, sheet.LabourStandards.Column("when").Choices, listed("labour_standard_condition_is_known"))
}
