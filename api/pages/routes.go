package pages

import (
	"strings"

	"seamwright/api/web"
	"seamwright/service/fault"
)

// Open adds what a person looks at in a browser.
func Open(s *web.Server, site *Site) {
	for route, name := range map[string]string{"GET /": "index", "GET /docs": "docs"} {
		page := site.Page(name)
		s.Serve(route, func(c *web.Call) error { page.ServeHTTP(c.Response(), c.Request()); return nil })
	}
	s.Serve("GET /order", func(c *web.Call) error {
		page := site.InLanguage(c.QueryParam("language"))
		if cat := s.Snapshot(); page == nil && cat != nil {
			page = site.InLanguage(cat.Settings.ShopLanguage)
		}
		if page == nil {
			page = site.Page("order")
		}
		page.ServeHTTP(c.Response(), c.Request())
		return nil
	})
	s.Serve("GET /assets/:name", func(c *web.Call) error { return getAsset(c, site) })
}

func getAsset(c *web.Call, site *Site) error {
	if file := site.File(c.Param("name")); file != nil {
		file.ServeHTTP(c.Response(), c.Request())
		return nil
	}
	return &fault.Fault{Kind: fault.NotFound, Detail: "No page loads a file of that name.",
		Fix: "There are: " + strings.Join(site.Names(), ", ") + "."}
}
