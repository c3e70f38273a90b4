package linkeddata

import "unicode/utf8"

// Dataset is the readings of a trial with what was computed of them.
// https://schema.org/Dataset
type Dataset struct {
	ID           string
	Address      string
	Name         string
	Description  string // search engines ask for 50 letters at least, and 5000 at most
	By           Maker
	Licence      string // an address; empty: not said
	Published    string // a day
	Covers       string // the day, or days, of the readings, as ISO 8601 has them
	Language     string
	Keywords     []string
	Technique    []string // how it was measured, in words
	Measured     []Variable
	Distribution []Download
}

// Variable is one thing that was measured. https://schema.org/PropertyValue
type Variable struct {
	Name        string
	Description string
	Unit        string // a symbol, as "s"; empty for what is counted
}

// Download is one file to take away. https://schema.org/DataDownload
type Download struct {
	Name    string
	Address string
	Format  string // a media type: "text/csv"
	Words   string // what is in it
	Bytes   string // its size with its unit, as "2 kB"; may be empty
}

// longestDescription is what search engines read of a data set, in characters.
const longestDescription = 5000

func (d Dataset) node() (node, error) {
	if err := need("Dataset", "name", d.Name, "description", d.Description); err != nil {
		return nil, err
	}
	n := typed("Dataset")
	n.set("@id", d.ID)
	n.set("url", d.Address)
	n.set("name", d.Name)
	n.set("description", shorten(d.Description, longestDescription))
	n.nodes("creator", d.By.nodes())
	n.set("license", d.Licence)
	n.set("datePublished", d.Published)
	n.set("temporalCoverage", d.Covers)
	n.set("inLanguage", d.Language)
	n.list("keywords", d.Keywords)
	n.list("measurementTechnique", d.Technique)
	var measured []node
	for _, v := range d.Measured {
		if err := need("PropertyValue", "name", v.Name); err != nil {
			return nil, err
		}
		value := typed("PropertyValue")
		value.set("name", v.Name)
		value.set("description", v.Description)
		value.set("unitText", v.Unit)
		measured = append(measured, value)
	}
	n.nodes("variableMeasured", measured)
	var files []node
	for _, f := range d.Distribution {
		if err := need("DataDownload", "contentUrl", f.Address, "encodingFormat", f.Format); err != nil {
			return nil, err
		}
		file := typed("DataDownload")
		file.set("name", f.Name)
		file.set("contentUrl", f.Address)
		file.set("encodingFormat", f.Format)
		file.set("description", f.Words)
		file.set("contentSize", f.Bytes)
		files = append(files, file)
	}
	n.nodes("distribution", files)
	return n, nil
}

// shorten cuts a text to so many characters, the last of them an ellipsis.
func shorten(text string, most int) string {
	if utf8.RuneCountInString(text) <= most {
		return text
	}
	return string([]rune(text)[:most-1]) + "…"
}
