# shellcheck shell=bash
# Offers the served page to phones in the same network. Sourced by app/serve --https.
#
# Browsers keep a page offline, keep the screen on and store safely only where the address is secure,
# so the phone needs HTTPS, and a certificate it trusts. One is made here; its keys never leave this
# machine and are not in the repository.

certificates="$cache/https"

set_up_https() {
    need_program openssl openssl
    need_program socat socat
}

# serve_https PORT: the page at PORT + 1, encrypted, and the certificate to trust at PORT + 2. What it
# starts is added to `started`.
serve_https() {
    local secure=$(($1 + 1)) plain=$(($1 + 2)) address
    address="$(network_address)"
    [ -n "$address" ] || give_up "This machine is in no network that a phone could reach."
    make_certificates "$address"
    hand_out_certificate

    # Everything arrives encrypted, and goes on to the plain server on this machine.
    socat "OPENSSL-LISTEN:$secure,reuseaddr,fork,verify=0,openssl-min-proto-version=TLS1.2,cert=$certificates/server.pem,key=$certificates/server-key.pem" \
        "TCP:127.0.0.1:$1" 2>/dev/null &
    started+=($!)
    # The answer is the same whatever is asked, so no more of a server is needed.
    socat "TCP-LISTEN:$plain,reuseaddr,fork" "SYSTEM:sed '/^.$/q' >/dev/null; cat '$certificates/answer'" 2>/dev/null &
    started+=($!)

    say ""
    say "On any phone in this network:"
    say "  1. Open http://$address:$plain/ and let the phone install the certificate it gets."
    say "     Android: Settings, search 'CA certificate', install it from the downloaded file."
    say "     iPhone (in Safari): Settings, Profile Downloaded, Install; then General, About,"
    say "     Certificate Trust Settings, switch on 'Sinkside on $(hostname)'."
    say "     Its SHA-256 fingerprint must be:"
    say "     $(fingerprint)"
    say "  2. Open https://$address:$secure/"
    say "  The certificate is good for this network and private networks only. When you are done with"
    say "  trying Sinkside, remove it from the phone; delete $certificates to end it here."
}

# The address other machines in the network know this one by.
network_address() {
    hostname -I 2>/dev/null | tr ' ' '\n' | grep -E '^[0-9]+(\.[0-9]+){3}$' | head -n 1
}

fingerprint() {
    openssl x509 -in "$certificates/root.pem" -noout -fingerprint -sha256 | cut -d = -f 2
}

# A root that the phone is asked to trust, and under it a certificate for this address. They stay the
# same as long as they fit, so a phone has to be told once.
make_certificates() {
    local address=$1
    mkdir -p "$certificates"
    chmod 700 "$certificates"
    openssl x509 -in "$certificates/root.pem" -noout -checkend 2592000 >/dev/null 2>&1 || make_root "$address"
    certificate_fits "$address" && return
    make_server "$address"
    certificate_fits "$address" && return
    # The old root was limited to another network.
    make_root "$address"
    make_server "$address"
    certificate_fits "$address" || give_up "No certificate for $address could be made with openssl."
}

certificate_fits() {
    openssl x509 -in "$certificates/server.pem" -noout -checkend 604800 >/dev/null 2>&1 &&
        openssl verify -CAfile "$certificates/root.pem" -verify_ip "$1" "$certificates/server.pem" >/dev/null 2>&1
}

# The root can vouch for private addresses and this network alone, never for a site elsewhere.
make_root() {
    say "Making a certificate to trust, in $certificates."
    cat >"$certificates/root.conf" <<CONF
[req]
distinguished_name = name
x509_extensions = root
prompt = no
[name]
CN = Sinkside on $(hostname)
[root]
basicConstraints = critical, CA:true, pathlen:0
keyUsage = critical, keyCertSign, cRLSign
subjectKeyIdentifier = hash
nameConstraints = critical, @allowed
[allowed]
permitted;DNS.0 = localhost
permitted;IP.0 = 127.0.0.0/255.0.0.0
permitted;IP.1 = 10.0.0.0/255.0.0.0
permitted;IP.2 = 172.16.0.0/255.240.0.0
permitted;IP.3 = 192.168.0.0/255.255.0.0
permitted;IP.4 = ${1%.*}.0/255.255.255.0
CONF
    quietly openssl req -x509 -newkey ec -pkeyopt ec_paramgen_curve:prime256v1 -noenc -sha256 -days 1825 \
        -config "$certificates/root.conf" -keyout "$certificates/root-key.pem" -out "$certificates/root.pem"
    rm -f "$certificates/server.pem"
}

# Phones refuse a certificate that is good for longer than 398 days.
make_server() {
    cat >"$certificates/server.conf" <<CONF
[req]
distinguished_name = name
prompt = no
[name]
CN = Sinkside
[server]
basicConstraints = critical, CA:false
keyUsage = critical, digitalSignature
extendedKeyUsage = serverAuth
subjectAltName = DNS:localhost, IP:127.0.0.1, IP:$1
CONF
    quietly openssl req -newkey ec -pkeyopt ec_paramgen_curve:prime256v1 -noenc -sha256 \
        -config "$certificates/server.conf" -keyout "$certificates/server-key.pem" -out "$certificates/server.csr"
    quietly openssl x509 -req -in "$certificates/server.csr" -sha256 -days 390 \
        -CA "$certificates/root.pem" -CAkey "$certificates/root-key.pem" -CAcreateserial \
        -extfile "$certificates/server.conf" -extensions server -out "$certificates/server.pem"
}

# The whole answer of a server, with the media type that makes a phone offer to install it.
hand_out_certificate() {
    local der="$certificates/root.der"
    openssl x509 -in "$certificates/root.pem" -outform der -out "$der"
    {
        printf 'HTTP/1.1 200 OK\r\nContent-Type: application/x-x509-ca-cert\r\n'
        printf 'Content-Disposition: attachment; filename="sinkside.crt"\r\n'
        printf 'Content-Length: %s\r\nConnection: close\r\n\r\n' "$(wc -c <"$der")"
        cat "$der"
    } >"$certificates/answer"
}
