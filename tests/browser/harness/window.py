#!/usr/bin/python3
"""A window of WebKitGTK for the tests: window.py PROFILE light|dark

The engine's own small browser forgets everything when it is driven, and is never narrower than its
bar. This window keeps what pages store in PROFILE, has nothing round the page, and takes orders as
files in PROFILE, which are gone once they are followed:

  script.js      runs in front of every document from the next one on, instead of the one before
  clipboard.txt  lies in the clipboard
"""

import os
import sys

PROFILE, COLOURS = sys.argv[1:3]
# Every helper that is started from here is at home in the profile.
os.environ["HOME"] = PROFILE
for name in ("CACHE_HOME", "CONFIG_HOME", "DATA_HOME", "RUNTIME_DIR"):
    os.environ["XDG_" + name] = os.path.join(PROFILE, "home")
os.makedirs(os.path.join(PROFILE, "home"), mode=0o700, exist_ok=True)

import gi  # noqa: E402

gi.require_version("Gtk", "3.0")
gi.require_version("WebKit2", "4.1")
from gi.repository import Gdk, GLib, Gtk, WebKit2  # noqa: E402

PARENT = os.getppid()
data = WebKit2.WebsiteDataManager(
    base_data_directory=os.path.join(PROFILE, "data"),
    base_cache_directory=os.path.join(PROFILE, "cache"),
)
context = WebKit2.WebContext(website_data_manager=data)
scripts = WebKit2.UserContentManager()


def open_window(*_):
    view = WebKit2.WebView(
        web_context=context, user_content_manager=scripts, is_controlled_by_automation=True
    )
    window = Gtk.Window(decorated=False)
    window.set_default_size(390, 844)
    window.add(view)
    view.connect("close", lambda _: window.destroy())
    window.show_all()
    view.grab_focus()
    return view


def begin(_, session):
    about = WebKit2.ApplicationInfo()
    about.set_name("Sinkside tests")
    session.set_application_info(about)
    session.connect("create-web-view", open_window)


def save(_, download):
    def decide(download, name):
        download.set_destination("file://" + os.path.join(PROFILE, "saved", name))
        return True

    download.connect("decide-destination", decide)


def order(name):
    """What a file orders, or None."""
    path = os.path.join(PROFILE, name)
    if not os.path.exists(path):
        return None
    with open(path, encoding="utf-8", newline="") as file:
        return file.read()


def follow():
    # The driver has gone, and nobody will ever close this window.
    if os.getppid() != PARENT:
        Gtk.main_quit()
    source = order("script.js")
    if source is not None:
        scripts.remove_all_scripts()
        frames, start = WebKit2.UserContentInjectedFrames.ALL_FRAMES, WebKit2.UserScriptInjectionTime.START
        scripts.add_script(WebKit2.UserScript.new(source, frames, start, None, None))
        os.remove(os.path.join(PROFILE, "script.js"))
    text = order("clipboard.txt")
    if text is not None:
        Gtk.Clipboard.get(Gdk.SELECTION_CLIPBOARD).set_text(text, -1)
        os.remove(os.path.join(PROFILE, "clipboard.txt"))
    return True


Gtk.Settings.get_default().set_property("gtk-application-prefer-dark-theme", COLOURS == "dark")
context.set_automation_allowed(True)
context.connect("automation-started", begin)
context.connect("download-started", save)
GLib.timeout_add(10, follow)
Gtk.main()
