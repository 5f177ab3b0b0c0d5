"""The language server over standard input and output, as an editor starts it."""

import asyncio
import sys
import urllib.request

import pytest

pytest.importorskip("pygls", reason="the extra `editor` is not installed")

from lsprotocol import types
from pygls.lsp.client import LanguageClient

from tests.editor.desks import TRUCK
from tests.editor.test_writing_beside import BACKWARDS

URI = f"file://{TRUCK}"


async def session() -> dict[str, object]:
    """One session: a design with a fault is opened, a slip is made, looked at and mended."""
    client, shown, told = LanguageClient("test", "1"), asyncio.Queue(), {}

    @client.feature(types.TEXT_DOCUMENT_PUBLISH_DIAGNOSTICS)
    def published(params: types.PublishDiagnosticsParams) -> None:
        shown.put_nowait(params)

    async def until(wanted) -> list[types.Diagnostic]:
        while True:
            params = await asyncio.wait_for(shown.get(), 60)
            if params.uri == URI and wanted([each.code for each in params.diagnostics]):
                return list(params.diagnostics)

    await client.start_io(sys.executable, "-m", "circuit", "language-server", "--stdio")
    started = await client.initialize_async(types.InitializeParams(capabilities=types.ClientCapabilities()))
    told["can"] = started.capabilities
    client.initialized(types.InitializedParams())
    item = types.TextDocumentItem(URI, "airwright", 1, BACKWARDS)
    client.text_document_did_open(types.DidOpenTextDocumentParams(item))
    told["found"] = await until(lambda codes: "part-backwards" in codes)
    row = next(n for n, text in enumerate(BACKWARDS.split("\n")) if text.startswith("relay-valve rear-relay"))
    slip = types.TextDocumentContentChangePartial(types.Range(types.Position(row, 0), types.Position(row, 5)), "rely")
    client.text_document_did_change(types.DidChangeTextDocumentParams(types.VersionedTextDocumentIdentifier(2, URI), [slip]))
    told["slip"] = await until(lambda codes: "unreadable" in codes)
    document = types.TextDocumentIdentifier(URI)
    place = types.Range(types.Position(row, 0), types.Position(row, 4))
    told["actions"] = await client.text_document_code_action_async(
        types.CodeActionParams(document, place, types.CodeActionContext([])))
    told["completion"] = await client.text_document_completion_async(
        types.CompletionParams(document, types.Position(row, 3)))
    told["hover"] = await client.text_document_hover_async(types.HoverParams(document, types.Position(row + 1, 6)))
    told["tokens"] = await client.text_document_semantic_tokens_full_async(types.SemanticTokensParams(document))
    told["references"] = await client.text_document_references_async(
        types.ReferenceParams(types.ReferenceContext(True), document, types.Position(row + 1, 6)))
    told["format"] = await client.text_document_formatting_async(
        types.DocumentFormattingParams(document, types.FormattingOptions(4, True)))
    told["address"] = await client.workspace_execute_command_async(types.ExecuteCommandParams("airwright.live", [URI]))
    told["page"] = await asyncio.to_thread(lambda: urllib.request.urlopen(told["address"], timeout=30).read().decode())
    nothing = types.TextDocumentIdentifier("file:///nowhere/at-all.air")
    told["nothing"] = await client.text_document_hover_async(types.HoverParams(nothing, types.Position(0, 0)))
    told["no outline"] = await client.text_document_document_symbol_async(types.DocumentSymbolParams(nothing))
    await client.shutdown_async(None)
    client.exit(None)
    await client.stop()
    return told


def test_a_session_finds_completes_and_mends() -> None:
    told = asyncio.run(session())
    can = told["can"]
    assert can.rename_provider and can.hover_provider and can.folding_range_provider and can.inlay_hint_provider
    (finding,) = [each for each in told["found"] if each.code == "part-backwards"]
    assert finding.severity == types.DiagnosticSeverity.Error and finding.code_description.href.endswith("part-backwards.md")
    (mistake,) = [each for each in told["slip"] if each.code == "unreadable"]
    assert "did you mean relay-valve?" in mistake.message
    titles = [each.title for each in told["actions"]]
    assert titles[0] == "write relay-valve" and titles[-1] == "show the live drawing"
    assert "relay-valve" in [each.label for each in told["completion"].items[:5]]
    assert "Reservoir" in told["hover"].contents.value and len(told["tokens"].data) % 5 == 0
    assert len([each for each in told["references"] if each.uri == URI]) > 5
    assert not told["format"], "what is broken is not touched"
    assert told["address"].startswith("http://127.0.0.1:") and "<textarea" in told["page"]
    assert not told["nothing"] and not told["no outline"]


def test_a_text_is_known_by_the_address_that_its_editor_writes() -> None:
    from circuit.editor.server import made

    server = made()
    path = server.path("file:///a%20b/c%2Bd.air")
    assert path == "/a b/c+d.air" and server.uri(path) == "file:///a%20b/c%2Bd.air" and server.uri("/x y.air") == "file:///x%20y.air"
    server.lessons.cleanup()
