"""The language server: what the other files of this room say, carried to an editor over its protocol.

Mistakes of the text are shown at once; what rules find follows when the typing rests, on the same desk.
"""

import asyncio
import os
import tempfile
from collections.abc import Callable, Iterable
from functools import wraps
from pathlib import Path
from typing import Any
from urllib.parse import unquote, urlparse

from lsprotocol import types
from pygls.exceptions import JsonRpcInvalidParams
from pygls.lsp.server import LanguageServer

from circuit import __version__
from circuit.editor import completing, hovering, naming, outlining, problems, remedies
from circuit.editor.desk import Desk
from circuit.editor.spots import Edit, Range, column_of, typed
from circuit.mistake import Unreadable
from circuit.syntax.tidy import tidy

REST = 0.15
"""s without a keystroke after which rules are asked."""
LIVE = "airwright.live"
"""The command that shows the live drawing of a design."""

_SEVERITIES = {"error": types.DiagnosticSeverity.Error, "warning": types.DiagnosticSeverity.Warning,
               "note": types.DiagnosticSeverity.Information}
_SORTS = {"kind": types.CompletionItemKind.Class, "statement": types.CompletionItemKind.Keyword,
          "setting": types.CompletionItemKind.Property, "word": types.CompletionItemKind.EnumMember,
          "unit": types.CompletionItemKind.Unit, "name": types.CompletionItemKind.Variable,
          "port": types.CompletionItemKind.Field}


class Server(LanguageServer):
    """desk: the designs. uris: addresses as the editor writes them, by path. shown: by open design, the files that it has
    problems in. waiting: designs whose rules are to be asked."""

    def __init__(self) -> None:
        super().__init__("airwright", __version__)
        self.desk = Desk()
        self.uris: dict[str, str] = {}
        self.shown: dict[str, set[str]] = {}
        self.waiting: dict[str, asyncio.TimerHandle] = {}
        self.lessons = tempfile.TemporaryDirectory(prefix="airwright-lessons-")
        self.live: Any = None

    def path(self, uri: str) -> str:
        """The path of an address; how the editor writes it is kept, for it knows its texts by that alone."""
        path = path_of(uri)
        self.uris[path] = uri
        return path

    def uri(self, path: str) -> str:
        return self.uris.get(path) or uri_of(path)

    def edits(self, edits: Iterable[Edit]) -> types.WorkspaceEdit:
        found: dict[str, list[types.TextEdit]] = {}
        for edit in edits:
            found.setdefault(self.uri(edit.path), []).append(types.TextEdit(_range(edit.at), edit.new))
        return types.WorkspaceEdit(changes=found)

    def changed(self, path: str) -> None:
        """Shows the mistakes of a text now, and what rules find of it when the typing rests."""
        self._show(path, problems.of_text)
        if path in self.waiting:
            self.waiting.pop(path).cancel()
        self.waiting[path] = asyncio.get_running_loop().call_later(REST, self._rested, path)

    def _rested(self, path: str) -> None:
        self.waiting.pop(path, None)
        self._show(path, problems.problems)
        if self.live is not None:
            self.live.put(path, self.desk.source(path).text)

    def _show(self, path: str, asked: Callable[[Desk, str], list[problems.Problem]]) -> None:
        """Publishes problems by file; a file that has none any more is told so."""
        try:
            found = asked(self.desk, path)
        except Unreadable:
            found = []
        by_file: dict[str, list[types.Diagnostic]] = {path: []}
        for one in found:
            by_file.setdefault(one.path, []).append(self._diagnostic(one))
        for gone in self.shown.get(path, set()) - by_file.keys():
            by_file[gone] = []
        self.shown[path] = set(by_file)
        for name, diagnostics in by_file.items():
            if name == path or name not in self.desk.open:
                told = types.PublishDiagnosticsParams(uri=self.uri(name), diagnostics=diagnostics)
                self.text_document_publish_diagnostics(told)

    def _diagnostic(self, one: problems.Problem) -> types.Diagnostic:
        more = [types.DiagnosticRelatedInformation(types.Location(self.uri(path), _range(at)), what)
                for path, at, what in one.more]
        href = self._lesson(one.code)
        return types.Diagnostic(_range(one.at), one.says, _SEVERITIES[one.severity], one.code,
                                types.CodeDescription(href) if href else None, "airwright", related_information=more)

    def _lesson(self, code: str) -> str:
        """The address of a page with the lesson of a rule, written when it is first needed; "" for what has none."""
        path = Path(self.lessons.name) / f"{code}.md"
        if not path.exists():
            from circuit.report.explain import explain

            try:
                told = explain(code)
            except (ValueError, KeyError, LookupError):
                return ""
            path.write_text(f"```\n{told}\n```\n", encoding="utf-8")
        return path.as_uri()


def path_of(uri: str) -> str:
    """The path of a file's address.

    >>> path_of("file:///home/me/my%20truck.air")
    '/home/me/my truck.air'
    """
    parts = urlparse(uri)
    return os.path.abspath(unquote(parts.path) or "untitled.air")


def uri_of(path: str) -> str:
    return Path(path).as_uri() if os.path.isabs(path) else path


def _range(at: Range) -> types.Range:
    return types.Range(types.Position(*at.start), types.Position(*at.end))


def careful(work: Callable[[Any], Any]) -> Callable[[Any], Any]:
    """Asked about a file that cannot be read there is nothing to answer, and that is no fault."""

    @wraps(work)
    def answered(params: Any) -> Any:
        try:
            return work(params)
        except Unreadable:
            return None

    return answered


def made() -> Server:
    """A server with all that it can do."""
    server = Server()
    _texts(server)
    _words(server)
    _names(server)
    _shape(server)
    _doing(server)
    return server


def _texts(server: Server) -> None:
    @server.feature(types.TEXT_DOCUMENT_DID_OPEN)
    @careful
    def opened(params: types.DidOpenTextDocumentParams) -> None:
        path = server.path(params.text_document.uri)
        server.desk.put(path, params.text_document.text)
        server.changed(path)

    @server.feature(types.TEXT_DOCUMENT_DID_CHANGE)
    @careful
    def changed(params: types.DidChangeTextDocumentParams) -> None:
        path = server.path(params.text_document.uri)
        server.desk.put(path, server.workspace.get_text_document(params.text_document.uri).source)
        server.changed(path)
        for other in server.desk.open:
            if other != path and any(each.name == path for each in server.desk.known(other).files):
                server.changed(other)

    @server.feature(types.TEXT_DOCUMENT_DID_SAVE)
    @careful
    def saved(params: types.DidSaveTextDocumentParams) -> None:
        server.changed(server.path(params.text_document.uri))

    @server.feature(types.TEXT_DOCUMENT_DID_CLOSE)
    @careful
    def closed(params: types.DidCloseTextDocumentParams) -> None:
        path = server.path(params.text_document.uri)
        server.desk.take(path)
        if path in server.waiting:
            server.waiting.pop(path).cancel()
        for name in server.shown.pop(path, set()):
            server.text_document_publish_diagnostics(types.PublishDiagnosticsParams(uri=server.uri(name), diagnostics=[]))

    @server.feature(types.TEXT_DOCUMENT_FORMATTING)
    @careful
    def formatted(params: types.DocumentFormattingParams) -> list[types.TextEdit]:
        source = server.desk.source(server.path(params.text_document.uri))
        try:
            text = tidy(source)
        except Unreadable:
            return []  # what is broken is not touched
        return [types.TextEdit(_range(edit.at), edit.new) for edit in remedies.changed(source.name, source, text)]


def _words(server: Server) -> None:
    @server.feature(types.TEXT_DOCUMENT_COMPLETION, types.CompletionOptions(trigger_characters=[" ", ".", ":", ",", ">"]))
    @careful
    def offered(params: types.CompletionParams) -> types.CompletionList:
        path, line = server.path(params.text_document.uri), params.position.line
        row = server.desk.source(path).row(line + 1)
        column = column_of(row, params.position.character)
        here = typed(server.desk.source(path), line + 1, column)
        start = types.Position(line, params.position.character - (len(here.word) if here else 0))
        items = [types.CompletionItem(label=each.text, kind=_SORTS[each.sort], detail=each.says.partition("\n")[0][:120],
                                      sort_text=f"{rank:05}", filter_text=each.text,
                                      text_edit=types.TextEdit(types.Range(start, params.position), each.text))
                 for rank, each in enumerate(completing.offers(server.desk, path, line + 1, column)[:200])]
        return types.CompletionList(is_incomplete=False, items=items)

    @server.feature(types.TEXT_DOCUMENT_HOVER)
    @careful
    def hovered(params: types.HoverParams) -> types.Hover | None:
        told = hovering.hover(server.desk, server.path(params.text_document.uri), params.position.line, params.position.character)
        return types.Hover(types.MarkupContent(types.MarkupKind.Markdown, told)) if told else None


def _names(server: Server) -> None:
    def use(document: types.TextDocumentIdentifier, at: types.Position) -> naming.Use | None:
        return naming.use_at(server.desk, server.path(document.uri), at.line, at.character)

    @server.feature(types.TEXT_DOCUMENT_DEFINITION)
    @careful
    def defined(params: types.DefinitionParams) -> types.Location | None:
        found = use(params.text_document, params.position)
        given = naming.definition(server.desk, found.symbol) if found else None
        return types.Location(server.uri(given.path), _range(given.at)) if given else None

    @server.feature(types.TEXT_DOCUMENT_REFERENCES)
    @careful
    def used(params: types.ReferenceParams) -> list[types.Location]:
        found = use(params.text_document, params.position)
        every = naming.uses(server.desk, found.symbol, server.path(params.text_document.uri)) if found else []
        return [types.Location(server.uri(each.path), _range(each.at)) for each in every
                if params.context.include_declaration or not each.gives]

    @server.feature(types.TEXT_DOCUMENT_PREPARE_RENAME)
    @careful
    def may_be_renamed(params: types.PrepareRenameParams) -> types.Range | None:
        found = use(params.text_document, params.position)
        return _range(found.at) if found else None

    @server.feature(types.TEXT_DOCUMENT_RENAME, types.RenameOptions(prepare_provider=True))
    @careful
    def renamed(params: types.RenameParams) -> types.WorkspaceEdit:
        found = use(params.text_document, params.position)
        if found is None:
            raise JsonRpcInvalidParams("this is no name of the design")
        try:
            return server.edits(naming.renamed(server.desk, server.path(params.text_document.uri), found, params.new_name))
        except naming.CannotRename as trouble:
            raise JsonRpcInvalidParams(str(trouble)) from None


def _shape(server: Server) -> None:
    @server.feature(types.TEXT_DOCUMENT_DOCUMENT_SYMBOL)
    @careful
    def outlined(params: types.DocumentSymbolParams) -> list[types.DocumentSymbol]:
        return [_symbol(each) for each in outlining.outline(server.desk, server.path(params.text_document.uri))]

    @server.feature(types.TEXT_DOCUMENT_FOLDING_RANGE)
    @careful
    def folded(params: types.FoldingRangeParams) -> list[types.FoldingRange]:
        return [types.FoldingRange(first, last) for first, last in
                outlining.folds(server.desk, server.path(params.text_document.uri))]

    @server.feature(types.TEXT_DOCUMENT_SEMANTIC_TOKENS_FULL, types.SemanticTokensLegend(list(outlining.TOKENS), []))
    @careful
    def worded(params: types.SemanticTokensParams) -> types.SemanticTokens:
        data: list[int] = []
        line = letter = 0
        for each in outlining.tokens(server.desk, server.path(params.text_document.uri)):
            down = each.line - line
            data += [down, each.letter - (0 if down else letter), each.length, outlining.TOKENS.index(each.sort), 0]
            line, letter = each.line, each.letter
        return types.SemanticTokens(data)

    @server.feature(types.TEXT_DOCUMENT_INLAY_HINT)
    @careful
    def assumed(params: types.InlayHintParams) -> list[types.InlayHint]:
        rows = params.range.start.line, params.range.end.line
        return [types.InlayHint(types.Position(each.line, each.letter), each.text, tooltip=each.says, padding_left=True)
                for each in outlining.hints(server.desk, server.path(params.text_document.uri), *rows)]


def _symbol(entry: outlining.Entry) -> types.DocumentSymbol:
    is_line = " -> " in entry.name
    sort = types.SymbolKind.Event if is_line else types.SymbolKind.Namespace if entry.inside else types.SymbolKind.Object
    return types.DocumentSymbol(entry.name, sort, _range(entry.at), _range(entry.head), entry.sort,
                                children=[_symbol(each) for each in entry.inside])


def _doing(server: Server) -> None:
    @server.feature(types.TEXT_DOCUMENT_CODE_ACTION)
    @careful
    def offered(params: types.CodeActionParams) -> list[types.CodeAction | types.Command]:
        path = server.path(params.text_document.uri)
        rows = params.range.start.line, params.range.end.line
        found: list[types.CodeAction | types.Command] = [
            types.CodeAction(each.title, types.CodeActionKind.QuickFix,
                             [server._diagnostic(each.problem)] if each.problem else None, is_preferred=each.sure,
                             edit=server.edits(each.edits)) for each in remedies.actions(server.desk, path, *rows)]
        return [*found, types.Command("show the live drawing", command=LIVE, arguments=[params.text_document.uri])]

    @server.command(LIVE)
    def live(uri: str) -> str:
        """Shows a design in a browser, simulated, and again whenever its text changes; returns the address."""
        from circuit.editor.live_page import Live

        path = server.path(uri)
        if server.live is None or server.live.path != path:
            if server.live is not None:
                server.live.stop()
            server.live = Live(path, server.desk.source(path).text)
            server.live.start()
        address: str = server.live.address
        server.window_show_document(types.ShowDocumentParams(address, external=True))
        return address
