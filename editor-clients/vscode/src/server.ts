import { execFile } from 'node:child_process';
import * as fs from 'node:fs';
import * as path from 'node:path';
import * as vscode from 'vscode';

/** What one run of `relist` on the command line gave. */
export interface Run {
  /** The exit code; null where the program could not be started. */
  status: number | null;
  output: string;
  error: string;
}

/** The program: the setting, else the one inside this extension, else `relist` from the PATH. */
export function serverCommand(extensionFolder: string): string {
  const given = vscode.workspace.getConfiguration('relist').get<string>('command')?.trim();
  if (given) return given;
  const inside = path.join(extensionFolder, 'server', process.platform === 'win32' ? 'relist.exe' : 'relist');
  return fs.existsSync(inside) ? inside : 'relist';
}

/** Runs `relist` with arguments in a folder; never rejects. */
export function run(command: string, args: string[], folder: string): Promise<Run> {
  return new Promise(done =>
    execFile(command, args, { cwd: folder, maxBuffer: 64 * 1024 * 1024 }, (fault, output, error) => {
      const status = fault === null ? 0 : typeof fault.code === 'number' ? fault.code : null;
      done({ status, output, error: status === null ? `${command} could not be started: ${fault?.message}` : error });
    }),
  );
}
