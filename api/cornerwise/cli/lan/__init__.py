"""`cornerwise serve --lan`: the app over HTTPS for the phones around this laptop.

`addresses` says where phones reach it, `authority` keeps the certificates, `serving` runs the servers.
"""
