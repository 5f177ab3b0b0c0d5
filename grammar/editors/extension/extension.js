// Starts `airwright language-server` for designs, and shows the live drawing of the one that is open.
const vscode = require("vscode");
const { LanguageClient } = require("vscode-languageclient/node");

let client;

async function activate(context) {
  const command = vscode.workspace.getConfiguration("airwright").get("command");
  client = new LanguageClient("airwright", "Airwright", { command, args: ["language-server"] },
    { documentSelector: [{ scheme: "file", language: "airwright" }] });
  context.subscriptions.push(vscode.commands.registerCommand("airwright.showLive", () => {
    const editor = vscode.window.activeTextEditor;
    if (editor) return vscode.commands.executeCommand("airwright.live", editor.document.uri.toString());
  }));
  await client.start();
}

function deactivate() {
  return client && client.stop();
}

module.exports = { activate, deactivate };
