namespace AsmLsp.Core.Recovery.Audit;

/// <summary>Printed rows and the lines of the source that come from them: mostly one of each.</summary>
internal sealed class RowGroup
{
    public List<AuditRow> Rows { get; } = [];

    public SortedSet<int> Lines { get; } = [];

    /// <summary>All groups, in the order of the print.</summary>
    public static List<RowGroup> Of(AuditSheet sheet)
    {
        var groups = new List<RowGroup>();
        var taken = new bool[sheet.Rows.Count];
        var open = new Stack<AuditRow>();
        foreach (AuditRow row in sheet.Rows)
        {
            if (taken[row.Index] || row.Lines.Count == 0)
                continue;
            var group = new RowGroup();
            taken[row.Index] = true;
            open.Push(row);
            while (open.TryPop(out AuditRow? next))
            {
                group.Rows.Add(next);
                foreach (int line in next.Lines)
                {
                    if (!group.Lines.Add(line))
                        continue;
                    foreach (AuditRow other in sheet.RowsOf(line))
                    {
                        if (taken[other.Index])
                            continue;
                        taken[other.Index] = true;
                        open.Push(other);
                    }
                }
            }

            group.Rows.Sort(static (a, b) => a.Index.CompareTo(b.Index));
            groups.Add(group);
        }

        return groups;
    }
}
