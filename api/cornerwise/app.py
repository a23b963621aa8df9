"""The application: everything that is served, on one screen."""

from __future__ import annotations

from flask import Flask
from werkzeug.middleware.proxy_fix import ProxyFix

from .config import Config
from .store.database import open_database
from .web import pwa
from .web.calls import calls
from .web.flight import flight
from .web.geometry import geometry
from .web.joining import joining
from .web.live import live
from .web.logs import logs
from .web.match_schemas import EVENT_SCHEMAS
from .web.matches import matches
from .web.parsing import READ_AT_MOST_BYTES
from .web.problem import ProblemApi
from .web.replay import replay
from .web.reviews import reviews
from .web.stock import stock


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
    api = ProblemApi(app)
    api.document(EVENT_SCHEMAS)
    for resource in (calls, geometry, flight, stock, replay, matches, logs, joining, live, reviews):
        api.register_blueprint(resource, url_prefix="/api/v1")
    app.add_url_rule("/healthz", "healthz", lambda: {"status": "ok"})
    pwa.serve(app, config.dist)
    if config.proxies:
        trusted = ProxyFix(app.wsgi_app, x_for=config.proxies, x_proto=config.proxies)
        app.wsgi_app = trusted  # type: ignore[method-assign]
    return app
