package tomlfile

// Place is where a key stands in a document that was opened without a mistake, as
// offsets of its first byte and of its value's, from the first byte behind a byte
// order mark. For a table both are within its header, or that of the first table in
// it. It is false for a key that is not there.
func (d *Document) Place(parts ...string) (key, value int, there bool) {
	var k path
	for _, p := range parts {
		k = k.join(p)
	}
	at, there := d.at[k]
	return at.key, at.value, there
}
