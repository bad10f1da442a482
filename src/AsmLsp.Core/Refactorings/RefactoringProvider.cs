namespace AsmLsp.Core.Refactorings;

/// <summary>Offers one kind of refactoring.</summary>
public abstract class RefactoringProvider
{
    private protected RefactoringProvider() { }

    /// <summary>A name for the kind, in lower case with dashes; docs/editors.md lists it.</summary>
    public abstract string Name { get; }

    /// <summary>What kind of change it makes.</summary>
    public abstract RefactoringKind Kind { get; }

    /// <summary>Whether looking for it costs so little that an editor may ask at every move of the cursor.</summary>
    public virtual bool IsCheap => true;

    /// <summary>Whether it looks at the text alone, not at what it means in the program.</summary>
    public virtual bool IsTextOnly => false;

    internal abstract void Offer(RefactoringRequest request);
}
