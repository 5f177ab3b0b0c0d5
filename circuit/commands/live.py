"""`airwright live`: a design's text, its problems and its board in a browser, again whenever the file is saved."""

import argparse
import os
import time

from circuit.console.say import CLEAN, complain

GROUP = "write"
HELP = "show text, problems and the board that plays in a browser, again whenever the file is saved"


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("file", metavar="FILE", help="a design, ending in .air; it is never written to")
    parser.add_argument("--port", type=int, default=0, metavar="N", help="of this computer; any that is free if left out")
    parser.add_argument("--open", action="store_true", help="show the page in the browser of this computer")


def run(options: argparse.Namespace) -> int:
    from circuit.editor.live_page import Live

    if not os.path.isfile(options.file):
        return complain(f"there is no file {options.file}: name a design, one that ends in .air")
    if not 0 <= options.port < 65536:
        return complain(f"--port {options.port} is no port: write one below 65536, or leave it out")
    try:
        live = Live(options.file, port=options.port)
    except OSError as trouble:
        return complain(f"port {options.port} cannot be taken: {(trouble.strerror or str(trouble)).lower()}; leave --port out")
    live.start()
    print(f"{live.address}\nfor this computer alone, whoever has the address; an interrupt ends it", flush=True)
    if options.open:
        import webbrowser

        webbrowser.open(live.address)
    try:
        while True:
            time.sleep(3600)
    except KeyboardInterrupt:
        return CLEAN
    finally:
        live.stop()
