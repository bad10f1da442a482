namespace AsmLsp.Core.Problems;

/// <content>Directives, includes, macros and the limits that guard the machine.</content>
public static partial class Catalogue
{
    /// <summary>A directive's operand is faulty.</summary>
    public static readonly ProblemKind BadDirective = Error("bad-directive", "{0}");

    /// <summary>A file to include is not found.</summary>
    public static readonly ProblemKind IncludeMissing = Error(
        "include-missing",
        "The file {0} to include is not found. Put it beside this file, or remove the line if nothing of it is used."
    );

    /// <summary>A file to include that is elsewhere in the workspace.</summary>
    public static readonly ProblemKind IncludeElsewhere = Information(
        "include-elsewhere",
        "{0} is not beside this file. The only file of that name in the workspace is used: {1}"
    );

    /// <summary>Several files that an include may mean.</summary>
    public static readonly ProblemKind IncludeAmbiguous = Error(
        "include-ambiguous",
        "{0} is not beside this file, and several files in the workspace have that name: {1}. Choose one."
    );

    /// <summary>A name that may come from what is missing.</summary>
    public static readonly ProblemKind NameOfMissingFile = Warning(
        "name-of-missing-file",
        "{0} is not known here. It may come from {1}."
    );

    /// <summary>A file includes itself.</summary>
    public static readonly ProblemKind IncludeCircular = Error(
        "include-circular",
        "{0} is included while it is being read already: {1}."
    );

    /// <summary>A limit that guards the machine.</summary>
    public static readonly ProblemKind LimitReached = Error("limit-reached", "{0}");

    /// <summary>The program's own error line.</summary>
    public static readonly ProblemKind AuthorError = Error("author-error", "The program stops the build here: {0}{1}");

    /// <summary>The program's own message line.</summary>
    public static readonly ProblemKind AuthorMessage = Information("author-message", "The program says: {0}");

    /// <summary>Names that belong to another file.</summary>
    public static readonly ProblemKind ExternalName = Error(
        "external-name",
        "{0} is said to be defined in another file.{1}"
    );

    /// <summary>A define is given another text.</summary>
    public static readonly ProblemKind DefineChanged = Warning(
        "define-changed",
        "{0} already means '{1}' ({2}). From this line on it means '{3}'."
    );

    /// <summary>An included file ends with the word that ends the program.</summary>
    public static readonly ProblemKind EndInInclude = Warning(
        "end-in-include",
        "'end' is in {0}, which another file includes. Here it ends only that file, and the program continues after the include. Remove it to be sure."
    );

    /// <summary>A macro carries the name of an operation of the language.</summary>
    public static readonly ProblemKind MacroReplacesOperation = Warning(
        "macro-replaces-operation",
        "{0} is also the name of {1}. From here on a line with {0} puts in the lines of this macro instead. Give the macro another name to be sure."
    );

    /// <summary>A macro is defined a second time.</summary>
    public static readonly ProblemKind MacroDefinedTwice = Warning(
        "macro-defined-twice",
        "The macro {0} is defined again; calls from here on use this one."
    );

    /// <summary>A define for a name that was a value above it.</summary>
    public static readonly ProblemKind DefineReplacesValue = Information(
        "define-replaces-value",
        "{0} was {1} up to here ({2}). From this line on it means '{3}'."
    );
}
