"""The application: everything that is served, on one screen."""

from __future__ import annotations

from flask import Flask
from werkzeug.middleware.proxy_fix import ProxyFix

from .config import Config
from .store.database import open_database
from .web import documents, guard, limits, pwa
from .web.calls import calls
from .web.club import club
from .web.devices import devices
from .web.flight import flight
from .web.geometry import geometry
from .web.live import live
from .web.logs import logs
from .web.match_schemas import EVENT_SCHEMAS
from .web.matches import matches
from .web.opponents import opponents
from .web.parsing import READ_AT_MOST_BYTES
from .web.problem import ProblemApi
from .web.replay import replay
from .web.reviews import reviews
from .web.sessions import sessions
from .web.stock import stock
from .web.teams import teams
from .web.tokens import tokens


def create_app(config: Config | None = None) -> Flask:
    """Return the WSGI application."""
    config = config or Config.from_env()
    app = Flask(__name__, static_folder=None)
    app.json.sort_keys = False
    app.config.update(
        API_TITLE="Cornerwise",
        API_VERSION="v1",
        OPENAPI_VERSION="3.1.0",
        OPENAPI_URL_PREFIX="/api",
        OPENAPI_JSON_PATH="openapi.json",
        MAX_CONTENT_LENGTH=READ_AT_MOST_BYTES,
    )
    open_database(app, config.database_url, config.data)
    app.extensions["password_work"] = config.password_work
    limits.count_tries(app, config.limits_url)
    guard.watch(app)
    api = ProblemApi(app, spec_kwargs={"extra_plugins": [documents.Rights()]})
    documents.name_ways_in(api.spec)
    api.document(EVENT_SCHEMAS)
    stateless = (calls, geometry, flight, stock, replay)
    of_matches = (matches, logs, live, reviews)
    of_accounts = (sessions, devices, tokens, club)
    of_rosters = (teams, opponents)
    for resource in (*stateless, *of_matches, *of_accounts, *of_rosters):
        api.register_blueprint(resource, url_prefix="/api/v1")
    app.add_url_rule("/healthz", "healthz", lambda: {"status": "ok"})
    pwa.serve(app, config.dist)
    if config.proxies:
        trusted = ProxyFix(app.wsgi_app, x_for=config.proxies, x_proto=config.proxies)
        app.wsgi_app = trusted  # type: ignore[method-assign]
    return app
