package page_test

import (
	"context"
	"io"
	"net/http"
	"strings"
	"testing"

	"github.com/getkin/kin-openapi/openapi3"
	"github.com/getkin/kin-openapi/openapi3filter"
	"github.com/getkin/kin-openapi/routers/gorillamux"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The interface for programs is as its OpenAPI document says: the document is valid by the specification, and every answer is of
// the status, type and schema it tells. kin-openapi judges both.
func TestInterfaceIsAsDescribed(t *testing.T) {
	s := serve(t, map[string]string{"bag.yaml": bag, "broken.yaml": "plumbline: 1\npump: {plaice: x}\n"})
	openapi3filter.RegisterBodyDecoder("image/svg+xml", openapi3filter.FileBodyDecoder) // a drawing is text to it
	text := s.ask(t, "GET", "/api/openapi.json", nil)
	doc, err := openapi3.NewLoader().LoadFromData([]byte(text.Text))
	require.NoError(t, err)
	require.NoError(t, doc.Validate(context.Background()))
	doc.Servers = openapi3.Servers{{URL: s.URL}}
	router, err := gorillamux.NewRouter(doc)
	require.NoError(t, err)
	ask := func(status int, method, path, body string) string {
		t.Helper()
		req, err := http.NewRequestWithContext(t.Context(), method, s.URL+path, strings.NewReader(body))
		require.NoError(t, err)
		if body != "" {
			req.Header.Set("Content-Type", "application/json")
		}
		route, params, err := router.FindRoute(req)
		require.NoError(t, err, path)
		in := &openapi3filter.RequestValidationInput{Request: req, PathParams: params, Route: route, Options: &openapi3filter.Options{AuthenticationFunc: openapi3filter.NoopAuthenticationFunc}}
		if status < 400 {
			require.NoError(t, openapi3filter.ValidateRequest(t.Context(), in), path)
		}
		res, err := http.DefaultClient.Do(req)
		require.NoError(t, err)
		defer res.Body.Close()
		got, err := io.ReadAll(res.Body)
		require.NoError(t, err)
		assert.Equal(t, status, res.StatusCode, "%s: %s", path, got)
		out := &openapi3filter.ResponseValidationInput{RequestValidationInput: in, Status: res.StatusCode, Header: res.Header, Options: &openapi3filter.Options{IncludeResponseStatus: true}}
		out.SetBodyBytes(got)
		assert.NoError(t, openapi3filter.ValidateResponse(t.Context(), out), path)
		return string(got)
	}
	assert.Contains(t, ask(200, "GET", "/api/jobs", ""), "bag of parts")
	assert.Contains(t, ask(200, "GET", "/api/job?name=bag.yaml", ""), "Do not order")
	ask(404, "GET", "/api/job?name=none.yaml", "")
	ask(404, "GET", "/api/job?name=../x.yaml", "")
	ask(200, "GET", "/api/paper?name=bag.yaml&paper=parts", "")
	ask(200, "GET", "/api/paper?name=bag.yaml&paper=parts&format=csv", "")
	ask(200, "GET", "/api/paper?name=bag.yaml&paper=fuel&format=svg", "")
	ask(404, "GET", "/api/paper?name=bag.yaml&paper=none", "")
	ask(200, "POST", "/api/job/set?name=bag.yaml", `{"path":"design.feed.runs[0].mark","answer":"R9"}`)
	assert.Contains(t, s.file(t, "bag.yaml"), "sae_j30_r9")
	assert.Contains(t, s.file(t, "bag.yaml"), "# as the customer said")
	ask(200, "POST", "/api/job/line?name=bag.yaml", `{"line":"filter 10 micron"}`)
	ask(200, "POST", "/api/job/undo?name=bag.yaml", `{}`)
	ask(200, "POST", "/api/job/redo?name=bag.yaml", `{}`)
	ask(200, "POST", "/api/job/clear?name=bag.yaml", `{"path":"design.vehicle.model_year"}`)
	ask(422, "POST", "/api/job/set?name=bag.yaml", `{"path":"design.pump.place","answer":"on the moon"}`)
	ask(422, "POST", "/api/job/set?name=bag.yaml", `{"path":"design.nothing","answer":"1"}`)
	ask(400, "POST", "/api/job/set?name=bag.yaml", `{"pat":"design.pump.place"}`)
	ask(400, "POST", "/api/job/set?name=bag.yaml", `[`)
}
