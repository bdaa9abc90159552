"""The MkDocs plugin: hooks that hand the finished pages to MkDocs. The rest knows no MkDocs."""

from __future__ import annotations

import contextlib
from datetime import date
from pathlib import Path
from typing import Any

import jinja2
from mkdocs.config import base
from mkdocs.config import config_options as option
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import PluginError
from mkdocs.livereload import LiveReloadServer
from mkdocs.plugins import BasePlugin, event_priority
from mkdocs.structure.files import File, Files

from steadbook.bind.kept_pages import KeptPage, KeptPages, is_plain
from steadbook.bind.markdown import CONFIGS, EXTENSIONS
from steadbook.content import content_folders
from steadbook.errors import SteadbookError
from steadbook.inventory.fields import read_date
from steadbook.inventory.redact import EDITIONS
from steadbook.making import kept_folder, made_manual
from steadbook.pages import Manual
from steadbook.pages.escape import as_text

ASSETS = Path(__file__).parent / "assets"
STYLES = ("assets/manual.css",)
SCRIPTS = ("assets/ticks.js",)
SHIM = "assets/iframe-worker-shim.js"  # lets the search run from file://
SITEMAP = "sitemap.xml"  # is for robots, and bears the day it was made: left out
PALETTE = [
    {
        "media": f"(prefers-color-scheme: {name})",
        "scheme": scheme,
        "toggle": {"icon": icon, "name": f"Switch to {other}"},
    }
    for name, scheme, icon, other in (
        ("light", "default", "material/weather-night", "dark"),
        ("dark", "slate", "material/weather-sunny", "light"),
    )
]
FEATURES = [
    "navigation.tabs",
    "navigation.top",
    "navigation.indexes",
    "navigation.prune",  # a page lists its own tab's pages, not those of all tabs: half the bytes
    "search.highlight",
    "toc.follow",
]


class SteadbookOptions(base.Config):  # type: ignore[no-untyped-call]
    """Options of the plugin in mkdocs.yml."""

    as_of = option.Optional(option.Type((str, date)))
    """The day the manual is made for; today where it is not given."""

    edition = option.Choice(EDITIONS, default="owner")
    """Which edition of the manual is built."""


class SteadbookPlugin(BasePlugin[SteadbookOptions]):  # type: ignore[no-untyped-call]
    """Makes the pages of the manual from site_data and content."""

    manual: Manual | None = None  # set by `steadbook build`, which has made it already

    @event_priority(100)
    def on_config(self, config: MkDocsConfig) -> MkDocsConfig:
        """Keep the site self-contained, before any other plugin looks at the settings."""
        config.theme["font"] = False
        config.theme.setdefault("palette", PALETTE)
        config.theme["features"] = [*config.theme.get("features", []), *FEATURES]
        config.theme.static_templates.discard(SITEMAP)
        config.use_directory_urls = False
        config.extra.setdefault("generator", False)
        config.extra["polyfills"] = [SHIM]
        config.extra_css = [*STYLES, *config.extra_css]
        config.extra_javascript = [*SCRIPTS, *config.extra_javascript]
        for name in EXTENSIONS:
            if name not in config.markdown_extensions:
                config.markdown_extensions.append(name)
        config.mdx_configs.update(CONFIGS)
        return config

    def on_pre_build(self, *, config: MkDocsConfig) -> None:
        """Make the pages before the old site is cleaned away: bad input never costs it."""
        if self.manual is None or self._serving:
            self.manual = self._made(config)

    _serving = False

    def _made(self, config: MkDocsConfig) -> Manual:
        home = _home(config)
        try:
            as_of = read_date(self.config.as_of) if self.config.as_of else date.today()
            return made_manual(home, as_of=as_of, edition=self.config.edition).manual
        except SteadbookError as error:
            raise PluginError(str(error)) from None

    def on_files(self, files: Files, *, config: MkDocsConfig) -> Files:
        """Nothing but the finished pages: the inventory's own files stay at home."""
        assert self.manual is not None
        own = Path(config.docs_dir).resolve()
        for file in list(files):
            at_home = file.src_dir is not None and Path(file.src_dir).resolve() == own
            if at_home or file.src_uri == SITEMAP:
                files.remove(file)
        for page in self.manual.pages:
            files.append(File.generated(config, page.path, content=page.markdown))
        for path, svg in self.manual.drawings.items():
            files.append(File.generated(config, path, content=svg))
        for name in (*STYLES, *SCRIPTS, SHIM):
            text = (ASSETS / Path(name).name).read_text("utf-8")
            files.append(File.generated(config, name, content=text))
        config.nav = _navigation(self.manual)
        if is_plain(config):
            self._kept = KeptPages(
                kept_folder(_home(config)) / f"site-{self.config.edition}", files, config
            )
            for page in self.manual.pages:
                file = files.src_uris[page.path]
                KeptPage(shown(page.title), file, config, self._kept)  # tells the file itself
        return files

    _kept: KeptPages | None = None

    def on_env(
        self, env: jinja2.Environment, *, config: MkDocsConfig, files: Files
    ) -> jinja2.Environment:
        """Keep the theme's templates compiled; all pages are converted now: keep them too."""
        folder = kept_folder(_home(config)) / "theme"
        with contextlib.suppress(OSError):  # keeping them only saves time
            folder.mkdir(parents=True, exist_ok=True)
            env.bytecode_cache = jinja2.FileSystemBytecodeCache(str(folder))
        if self._kept is not None:
            self._kept.sweep()
        return env

    def on_serve(
        self, server: LiveReloadServer, *, config: MkDocsConfig, builder: Any
    ) -> LiveReloadServer:
        """Rebuild when the inventory or a page changes."""
        self._serving = True
        home = _home(config)
        for folder in (home / "site_data", *content_folders(home)):
            server.watch(str(folder))
        return server


def _home(config: MkDocsConfig) -> Path:
    return Path(config.config_file_path).resolve().parent


def shown(title: str) -> str:
    """A title as HTML: MkDocs and its themes take it for that, and print it as it is."""
    return str(as_text(title))


def _navigation(manual: Manual) -> list[dict[str, Any]]:
    """Tabs across, their pages down."""
    nav: list[dict[str, Any]] = []
    for tab, pages in manual.tabs().items():
        if len(pages) == 1:
            nav.append({shown(tab): pages[0].path})
        else:
            nav.append({shown(tab): [{shown(page.title): page.path} for page in pages]})
    return nav
