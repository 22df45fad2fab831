package api

import (
	"strings"

	"seamwright/api/pages"
	"seamwright/service/fault"
)

// openPages adds what a person looks at in a browser.
func openPages(s *webServer, site *pages.Site) {
	for route, name := range map[string]string{"GET /": "index", "GET /docs": "docs", "GET /order": "order"} {
		page := site.Page(name)
		s.serve(route, func(c *Call) error { page.ServeHTTP(c.Response(), c.Request()); return nil })
	}
	s.serve("GET /assets/:name", func(c *Call) error { return getAsset(c, site) })
}

func getAsset(c *Call, site *pages.Site) error {
	if file := site.File(c.Param("name")); file != nil {
		file.ServeHTTP(c.Response(), c.Request())
		return nil
	}
	return &fault.Fault{Kind: fault.NotFound, Detail: "No page loads a file of that name.", Fix: "There are: " + strings.Join(site.Names(), ", ") + "."}
}
