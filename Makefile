# `make run` serves the app (PORT=8000), `make test` runs every test, `make bench` the benchmarks.
# ARGS goes to the command at the end of each: gunicorn's options, pytest's options.
export PORT ?= 8000

.PHONY: run test bench
run test bench:
	@python3 api/dev.py $@ $(ARGS)
