package tomlfile

// Values are the tables, keys and values of a document as they were read, for showing
// them. A value that is no TOML, which has been noted, is false.
func (d *Document) Values() map[string]any { return d.root }

// Dotted is the path of a key as Problem.Key has it.
func Dotted(parts ...string) string {
	var k path
	for _, p := range parts {
		k = k.join(p)
	}
	return k.String()
}
