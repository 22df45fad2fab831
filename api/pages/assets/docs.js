// Starts the console over this service's own specification. A key that is typed in stays in this page: it is not kept.
"use strict";
window.addEventListener("load", () => {
  SwaggerUIBundle({
    url: "/openapi.json",
    dom_id: "#main",
    deepLinking: true,
    docExpansion: "list",
    defaultModelsExpandDepth: -1,
    defaultModelExpandDepth: 2,
    displayRequestDuration: true,
    filter: true,
    persistAuthorization: false,
    tryItOutEnabled: false,
    validatorUrl: null,
    withCredentials: false,
    presets: [SwaggerUIBundle.presets.apis],
    layout: "BaseLayout",
    syntaxHighlight: { activated: false },
  });
});
