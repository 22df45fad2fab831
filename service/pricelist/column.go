package pricelist

// column is what a column of a CSV list or a member of a JSON row is.
type column uint8

const (
	ignored column = iota
	articleColumn
	itemColumn
	priceColumn
	currencyColumn
	perColumn
	packOfColumn
	columns
)

// names are the plain names of the columns.
var names = [columns]string{"", "article", "item", "price", "currency", "per", "pack_of"}

// columnOf returns the column of a name; unit is another name for per.
func columnOf(name string) column {
	switch name {
	case "article":
		return articleColumn
	case "item":
		return itemColumn
	case "price":
		return priceColumn
	case "currency":
		return currencyColumn
	case "per", "unit":
		return perColumn
	case "pack_of":
		return packOfColumn
	}
	return ignored
}

// cells are the texts of one row by column.
type cells [columns]string
