package host

import (
	"crypto/tls"
	"crypto/x509"
	"encoding/pem"

	"example.com/scantling/plugins/region/wire"
)

// mutualTLS is this side of go-plugin's automatic mutual TLS, and its certificate as PEM.
func mutualTLS() (*tls.Config, string, error) {
	certificate, err := wire.Certificate()
	if err != nil {
		return nil, "", err
	}
	config := &tls.Config{Certificates: []tls.Certificate{certificate}, MinVersion: tls.VersionTLS12, ServerName: "localhost", RootCAs: x509.NewCertPool()}
	return config, string(pem.EncodeToMemory(&pem.Block{Type: "CERTIFICATE", Bytes: certificate.Certificate[0]})), nil
}
