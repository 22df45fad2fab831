package builtin

// Plain is a catalogue as it is embedded.
var Plain = plain

// Packed is the embedded file.
func Packed() []byte { return packed }

// Renew takes another one in its place.
func Renew(file []byte) { packed = file }
