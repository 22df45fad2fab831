package api_test

import (
	"bytes"
	"encoding/json"
	"net/http"
	"os"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/openapi"
)

// begun is an example in the spec of an answer that is no JSON: its first lines, then "…" and its last one, where it is long; of a
// picture its first bytes, each as the character of that number.
type begun struct {
	name  string
	first int  // lines of the beginning
	last  bool // with its last line
	bytes int  // of a picture
	asked []begunBy
}

// begunBy is a call that is answered so.
type begunBy struct{ operation, media, path, example string }

var allBegun = []begun{
	{name: "PlanSVG", first: 2, last: true, asked: []begunBy{
		{"postEstimate", "image/svg+xml", "/v1/estimates", "l_desk"}, {"postEstimateView", "image/svg+xml", "/v1/estimates/plan.svg", "l_desk"},
		{"getQuoteView", "image/svg+xml", "QUOTE/plan.svg", ""}}},
	{name: "OptionsSVG", first: 2, last: true, asked: []begunBy{
		{"postOptionSetView", "image/svg+xml", "/v1/option-sets/options.svg", "woods_and_joints"},
		{"postQuoteOptionSetView", "image/svg+xml", "QUOTE/option-sets/options.svg", "woods"}}},
	{name: "CalibrationSVG", first: 2, last: true, asked: []begunBy{{"getCalibration", "image/svg+xml", "/v1/learnings/calibration.svg", ""}}},
	{name: "DocumentPDF", first: 1, last: true, asked: []begunBy{
		{"postEstimate", "application/pdf", "/v1/estimates", "l_desk"}, {"postEstimateView", "application/pdf", "/v1/estimates/offer.pdf", "l_desk"},
		{"getQuoteView", "application/pdf", "QUOTE/offer.pdf", ""}, {"postOptionSetView", "application/pdf", "/v1/option-sets/options.pdf", "woods_and_joints"},
		{"postQuoteOptionSetView", "application/pdf", "QUOTE/option-sets/options.pdf", "woods"}}},
	{name: "PageHTML", first: 4, last: true, asked: []begunBy{
		{"postEstimate", "text/html", "/v1/estimates", "l_desk"}, {"postEstimateView", "text/html", "/v1/estimates/offer.html", "l_desk"},
		{"getQuoteView", "text/html", "QUOTE/offer.html", ""}, {"postOptionSetView", "text/html", "/v1/option-sets/options.html", "woods_and_joints"},
		{"postQuoteOptionSetView", "text/html", "QUOTE/option-sets/options.html", "woods"}, {"getFirstPage", "text/html", "/", ""},
		{"getDocumentation", "text/html", "/docs", ""}, {"getOrderPage", "text/html", "/order", ""}}},
	{name: "BillCSV", first: 2, asked: []begunBy{
		{"postEstimate", "text/csv", "/v1/estimates", "l_desk"}, {"postEstimateView", "text/csv", "/v1/estimates/bill.csv", "l_desk"},
		{"getQuoteView", "text/csv", "QUOTE/bill.csv", ""}}},
	{name: "OptionsCSV", first: 1, asked: []begunBy{{"postOptionSetView", "text/csv", "/v1/option-sets/options.csv", "woods_and_joints"},
		{"postQuoteOptionSetView", "text/csv", "QUOTE/option-sets/options.csv", "woods"}}},
	{name: "AdditionsCSV", first: 1, asked: []begunBy{{"exportAdditions", "text/csv", "/v1/additions/labour-roles.csv", ""}}},
	{name: "RolesCSV", first: 5, asked: []begunBy{{"exportCatalogue", "text/csv", "/v1/exports/labour-roles.csv", ""}}},
	{name: "LogoPNG", bytes: 8, asked: []begunBy{{"getLogo", "image/png", "/v1/letterhead/logo", ""}}},
	{name: "LogoJPEG", bytes: 3, asked: []begunBy{{"getLogo", "image/jpeg", "/v1/letterhead/logo", ""}}},
	{name: "AssetCSS", first: 1, asked: []begunBy{{"getAsset", "text/css", "/assets/docs.css", ""}}},
	{name: "AssetJavaScript", first: 1, asked: []begunBy{{"getAsset", "text/javascript", "/assets/order.js", ""}}},
	{name: "AssetSVG", first: 1, asked: []begunBy{{"getAsset", "image/svg+xml", "/assets/mark.svg", ""}}},
	{name: "AssetText", first: 2, asked: []begunBy{{"getAsset", "text/plain", "/assets/console.LICENSE.txt", ""}}},
	{name: "SpecYAML", first: 3, asked: []begunBy{{"getSpecYAML", "application/yaml", "/openapi.yaml", ""}}},
}

// of cuts the example out of an answer.
func (b *begun) of(answer []byte) string {
	if b.bytes > 0 {
		letters := make([]rune, b.bytes)
		for i := range letters {
			letters[i] = rune(answer[i])
		}
		return string(letters)
	}
	lines := strings.SplitAfter(strings.TrimSuffix(string(answer), "\n")+"\n", "\n")
	cut := strings.Join(lines[:min(b.first, len(lines))], "")
	if b.last {
		cut += "…\n" + lines[len(lines)-2]
	}
	return cut
}

// figures are left out of the comparison: prices and sizes move with the catalogue.
var figures = regexp.MustCompile(`[0-9]+([.,/-][0-9]+)*`)

// Answers that are no JSON are what the spec shows, whoever is asked for them; UPDATE_GOLDEN=1 writes those of today. It is not
// parallel: the test of the other examples writes the same file.
func TestTheExamplesOfAnswersThatAreNoJSONAreThoseOfTheService(t *testing.T) {
	document, err := openapi.Document()
	require.NoError(t, err)
	s := newShop(t)
	reported(t, s, 3, nil)
	made, _ := s.offer(t, `{"estimate":`+exampleBody(t, "/v1/estimates", "l_desk")+`}`)
	quote := "/v1/quotes/" + made["id"].(string)
	spec, err := os.ReadFile(specFile)
	require.NoError(t, err)
	shown := map[string]bool{}
	for _, b := range allBegun {
		held := document.Components.Examples[b.name].Value
		require.NotEmpty(t, held.Summary, b.name)
		for i, a := range b.asked {
			answer := answerOf(t, s, &a, quote)
			require.Equal(t, http.StatusOK, answer.status, "%v: %.500s", a, answer.body)
			require.True(t, strings.HasPrefix(answer.header.Get("Content-Type"), a.media), "%v", a)
			cut := b.of(answer.body)
			if i == 0 && os.Getenv("UPDATE_GOLDEN") != "" {
				spec, held.Value = rewritten(t, spec, b.name, cut), cut
			}
			require.Equal(t, figures.ReplaceAllString(cut, "0"), figures.ReplaceAllString(held.Value.(string), "0"),
				"%v: renew it with UPDATE_GOLDEN=1 go test ./api", a)
			shown[a.operation+" "+a.media+" #/components/examples/"+b.name] = true
		}
	}
	if os.Getenv("UPDATE_GOLDEN") != "" {
		require.NoError(t, os.WriteFile(specFile, spec, 0o644))
	}
	for _, item := range document.Paths.Map() {
		for _, operation := range item.Operations() {
			for status, response := range operation.Responses.Map() {
				for media, content := range response.Value.Content {
					if status[0] != '2' || strings.Contains(media, "json") || operation.OperationID == "getMetrics" {
						continue // lines of JSON and metrics have their own tests
					}
					require.NotEmpty(t, content.Examples, "%s %s", operation.OperationID, media)
					for _, example := range content.Examples {
						require.True(t, shown[operation.OperationID+" "+media+" "+example.Ref], "%s %s shows what nobody was answered: %q",
							operation.OperationID, media, example.Ref)
					}
				}
			}
		}
	}
}

// answerOf makes a call of the table.
func answerOf(t *testing.T, s *shop, a *begunBy, quote string) answer {
	t.Helper()
	path, accept := strings.Replace(a.path, "QUOTE", quote, 1), []string{"Accept", a.media}
	if a.operation == "getLogo" {
		kind := strings.TrimPrefix(a.media, "image/")
		put := s.do(t, http.MethodPut, path, strings.NewReader(logoOf(t, 30, 20, kind)), "Content-Type", a.media, "If-Match", "*")
		if put.status == http.StatusPreconditionFailed {
			put = s.do(t, http.MethodPut, path, strings.NewReader(logoOf(t, 30, 20, kind)), "Content-Type", a.media)
		}
		require.Less(t, put.status, 300, string(put.body))
	}
	if a.example == "" {
		return s.bare(t, http.MethodGet, path, "", accept...)
	}
	described := strings.Replace(a.path, "QUOTE", "/v1/quotes/{id}", 1)
	if i := strings.LastIndex(described, "/"); strings.Contains(described[i:], ".") {
		described = described[:i]
	}
	return s.bare(t, http.MethodPost, path, exampleBody(t, described, a.example), accept...)
}

// rewritten is the spec with another value of one of its examples.
func rewritten(t *testing.T, spec []byte, name, value string) []byte {
	t.Helper()
	var text bytes.Buffer
	encoder := json.NewEncoder(&text)
	encoder.SetEscapeHTML(false)
	require.NoError(t, encoder.Encode(value))
	written := strings.ReplaceAll(strings.TrimSpace(text.String()), "\u0089", `\u0089`) // which YAML wants escaped
	at := regexp.MustCompile(`(?m)(^    ` + name + `:\n      summary: .*\n      value: ).*$`)
	require.Len(t, at.FindAll(spec, -1), 1, name)
	return at.ReplaceAllFunc(spec, func(found []byte) []byte {
		return append(bytes.Clone(at.FindSubmatch(found)[1]), written...)
	})
}

// The metrics that the spec shows are among those that are given.
func TestTheExampleOfMetricsIsOfTheService(t *testing.T) {
	t.Parallel()
	document, err := openapi.Document()
	require.NoError(t, err)
	example := document.Paths.Value("/metrics").Get.Responses.Value("200").Value.Content["text/plain"].Example.(string)
	a := newClient(t, healthy(t)).bare(t, http.MethodGet, "/metrics", "")
	require.Contains(t, figures.ReplaceAllString(string(a.body), "0"), figures.ReplaceAllString(example, "0"))
}
