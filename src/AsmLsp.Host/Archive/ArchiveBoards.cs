using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Hex;
using AsmLsp.Core.Readouts;
using AsmLsp.Core.Text;

namespace AsmLsp.Host.Archive;

/// <summary>One programmed chip of a batch: the read-out that was filed, and what it is against the HEX of the archive.</summary>
/// <param name="Board">The number of the board.</param>
/// <param name="File">The read-out's name in the archive.</param>
/// <param name="IsSame">Whether the chip does what the HEX says.</param>
/// <param name="Verdict">What it is, in a sentence.</param>
/// <param name="Checksum">The checksum of the read-out in four digits, or empty.</param>
/// <param name="Who">Who programmed it, or empty.</param>
/// <param name="Note">What else there is to say, or empty.</param>
public sealed record BoardRow(
    int Board,
    string File,
    bool IsSame,
    string Verdict,
    string Checksum,
    string Who,
    string Note
);

/// <summary>The record of the boards in an archive (<c>boards.csv</c>, after RFC 4180), and their read-outs.</summary>
internal static class ArchiveBoards
{
    private static readonly string[] Columns = ["board", "file", "verify", "verdict", "checksum", "who", "note"];

    /// <summary>The name that a read-out gets: the first free one for its board.</summary>
    public static string NameFor(int board, IReadOnlyCollection<string> taken)
    {
        string stem = string.Create(CultureInfo.InvariantCulture, $"board-{board:00}");
        string name = stem + ".hex";
        for (int i = 2; taken.Contains(name); i++)
            name = string.Create(CultureInfo.InvariantCulture, $"{stem}-{i}.hex");
        return name;
    }

    /// <summary>Whether a name is that of a filed read-out, or of the record.</summary>
    public static bool IsOne(string name) =>
        name == ArchiveNames.Boards
        || (name.StartsWith("board-", StringComparison.Ordinal) && name.EndsWith(".hex", StringComparison.Ordinal));

    /// <summary>What a read-out is against the HEX.</summary>
    public static BoardRow Row(
        int board,
        string file,
        byte[] readout,
        byte[] hex,
        Device? device,
        string who,
        string note
    )
    {
        HexReading read = Read(readout);
        if (!read.IsUsable)
            return new BoardRow(board, file, false, read.Faults.First(static f => f.IsFatal).Message, "", who, note);
        var comparison = ReadoutComparison.Of(Read(hex).Memory, read.Memory, device);
        string sum =
            comparison.Device is { } chip && DeviceChecksum.Compute(chip, read.Memory) is { } value
                ? value.ToString("X4", CultureInfo.InvariantCulture)
                : "";
        return new BoardRow(board, file, comparison.IsSame, comparison.Verdict.Sentence, sum, who, note);
    }

    /// <summary>The record as a file.</summary>
    public static byte[] Write(IEnumerable<BoardRow> rows)
    {
        var text = new StringBuilder();
        Line(Columns);
        foreach (BoardRow row in rows)
            Line([
                row.Board.ToString(CultureInfo.InvariantCulture),
                row.File,
                row.IsSame ? "same" : "differs",
                row.Verdict,
                row.Checksum,
                row.Who,
                row.Note,
            ]);
        return Encoding.UTF8.GetBytes(text.ToString());

        void Line(string[] fields) => text.AppendJoin(',', fields.Select(Field)).Append("\r\n");
    }

    /// <summary>Reads a record; null where it is none.</summary>
    public static ImmutableArray<BoardRow>? Read(ReadOnlySpan<byte> record)
    {
        var bytes = record.ToArray();
        List<string[]> lines = Fields(Encoding.UTF8.GetString(bytes));
        if (lines.Count == 0 || !lines[0].SequenceEqual(Columns))
            return null;
        var rows = ImmutableArray.CreateBuilder<BoardRow>();
        foreach (string[] fields in lines.Skip(1))
        {
            if (
                fields.Length != Columns.Length
                || !int.TryParse(fields[0], NumberStyles.None, CultureInfo.InvariantCulture, out int board)
                || !IsOne(fields[1])
            )
                return null;
            rows.Add(
                new BoardRow(
                    board,
                    fields[1],
                    fields[2] == "same",
                    fields[3],
                    fields[4],
                    Unguarded(fields[5]),
                    Unguarded(fields[6])
                )
            );
        }

        return rows.ToImmutable();
    }

    /// <summary>The rows of an archive, read against a HEX: as they are now, whatever the record says.</summary>
    public static ImmutableArray<BoardRow> Renewed(
        ImmutableArray<BoardRow> rows,
        IReadOnlyDictionary<string, byte[]> files,
        byte[] hex,
        Device? device
    ) =>
        [
            .. rows.Select(row =>
                files.TryGetValue(row.File, out byte[]? readout)
                    ? Row(row.Board, row.File, readout, hex, device, row.Who, row.Note)
                    : row
            ),
        ];

    private static HexReading Read(byte[] hex) => IntelHexReader.Read(Encoding.Latin1.GetString(hex));

    // A spreadsheet takes a field that starts with one of these for a formula: an apostrophe keeps it a text.
    private static string Field(string text)
    {
        string shown = VisibleText.Of(text.ReplaceLineEndings(" "));
        if (shown.Length > 0 && shown[0] is '=' or '+' or '-' or '@' or '\t' or '\'')
            shown = "'" + shown;
        return shown.AsSpan().IndexOfAny(",\"\n") >= 0
            ? $"\"{shown.Replace("\"", "\"\"", StringComparison.Ordinal)}\""
            : shown;
    }

    private static string Unguarded(string text) => text.StartsWith('\'') ? text[1..] : text;

    private static List<string[]> Fields(string text)
    {
        var lines = new List<string[]>();
        var fields = new List<string>();
        var field = new StringBuilder();
        bool isQuoted = false;
        for (int i = 0; i < text.Length; i++)
        {
            char c = text[i];
            if (isQuoted && c == '"' && i + 1 < text.Length && text[i + 1] == '"')
                field.Append(text[++i]);
            else if (c == '"')
                isQuoted = !isQuoted;
            else if (!isQuoted && c == ',')
                Next();
            else if (!isQuoted && c is '\n' or '\r')
            {
                if (c == '\n')
                    End();
            }
            else
                field.Append(c);
        }

        if (field.Length > 0 || fields.Count > 0)
            End();
        return lines;

        void Next()
        {
            fields.Add(field.ToString());
            field.Clear();
        }

        void End()
        {
            Next();
            if (fields.Count > 1 || fields[0].Length > 0)
                lines.Add([.. fields]);
            fields.Clear();
        }
    }
}
