package catalogue

import "seamwright/service/document/words"

// ShopSettings is who the shop is, as its offers say it.
type ShopSettings struct {
	ShopName     string
	ShopAddress  string // lines, divided by semicolons
	ShopContact  string // likewise
	ShopLanguage string // of offers, when a call names none
	ShopPaper    string // A4, Letter, or auto: Letter for inches, A4 for millimetres
}

func shopText(key, value, about string, field func(*Settings) *string, choices ...string) Setting {
	return Setting{Key: key, Kind: SettingText, Default: value, About: about, Source: "demo", Choices: choices,
		put: func(s *Settings, p parsed) { *field(s) = p.text }}
}

// shopSettings is every setting of the shop's own name and looks.
var shopSettings = []Setting{
	shopText("shop_name", "Old Mill Workshop (invented)", "name of the shop, on its offers", func(s *Settings) *string { return &s.ShopName }),
	shopText("shop_address", "1 Mill Lane; Exampleton", "address of the shop, on its offers; lines are divided by semicolons", func(s *Settings) *string { return &s.ShopAddress }),
	shopText("shop_contact", "shop@example.com; +00 000 0000", "how the shop is reached, on its offers; lines are divided by semicolons", func(s *Settings) *string { return &s.ShopContact }),
	shopText("shop_language", "en", "language of offers, when a call names none", func(s *Settings) *string { return &s.ShopLanguage }, words.Languages()...),
	shopText("shop_paper", "auto", "paper of documents; auto: Letter for inches, A4 for millimetres", func(s *Settings) *string { return &s.ShopPaper }, "auto", "A4", "Letter"),
}
