"""The engine: from positions on a court to a call.

Pure arithmetic and rules, standard library only: no clock, no files, no network, no hidden
randomness. It runs in the server and, unchanged, on the phone. A room imports only rooms above it:

    maths  errors  court  flight  players  reception  passing  outcome  call  bridge
"""
