// Commands on a page name the address that the page came from.
for (const place of document.querySelectorAll(".address")) place.textContent = location.origin;
