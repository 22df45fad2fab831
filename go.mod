module seamwright

go 1.26.0

require github.com/quagmt/udecimal v1.10.1 // indirect
