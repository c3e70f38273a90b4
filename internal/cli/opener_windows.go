package cli

// opener is the program that opens addresses.
func opener() (string, []string) { return "rundll32", []string{"url.dll,FileProtocolHandler"} }
