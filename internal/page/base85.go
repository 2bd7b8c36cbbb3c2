package page

import "encoding/binary"

// alphabet is the letters of base85, which base85.js reads: those that can be printed from ! to |
// but for quotes, the backslash and what means something in HTML, so that no text of them ends a
// script.
const alphabet = "!#$%()*+,-./0123456789:;=?@ABCDEFGHIJKLMNOPQRSTUVWXYZ[]^_abcdefghijklmnopqrstuvwxyz{|"

// base85 writes each four bytes as five letters; base64 takes a fifteenth more. Of one to three
// bytes at the end there is one letter more than bytes.
func base85(data []byte) []byte {
	var out []byte
	for len(data) > 0 {
		var four [4]byte
		n := copy(four[:], data)
		data = data[n:]
		var five [5]byte
		for i, rest := len(five)-1, binary.BigEndian.Uint32(four[:]); i >= 0; i-- {
			five[i] = alphabet[rest%uint32(len(alphabet))]
			rest /= uint32(len(alphabet))
		}
		out = append(out, five[:n+1]...)
	}
	return out
}
