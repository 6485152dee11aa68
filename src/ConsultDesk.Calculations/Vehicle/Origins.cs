using System.Collections.Immutable;

namespace ConsultDesk.Calculations.Vehicle;

/// <summary>Where the value of an input comes from, the weakest first.</summary>
public enum Origin
{
    /// <summary>Nobody said: a default, or the consultant's guess.</summary>
    Assumed,

    /// <summary>The client said so.</summary>
    Told,

    /// <summary>Somebody measured it or read it off the product.</summary>
    Measured,
}

/// <summary>The origin of one input that is not assumed.</summary>
/// <param name="Id">
/// Path of the input in the words of the stored text, for example <c>stop.month</c> or
/// <c>openings[roof-fan].lengthM</c>; unique within the design.
/// </param>
/// <param name="Origin">Told or measured; what is assumed has no entry.</param>
public sealed record InputOrigin(string Id, Origin Origin);

/// <summary>Pure edits of where a design's inputs come from.</summary>
public static class Origins
{
    /// <summary>Origin of the input with this path; assumed when nobody said otherwise.</summary>
    public static Origin Of(Design design, string path) =>
        design.Origins.FirstOrDefault(entry => entry.Id == path)?.Origin ?? Origin.Assumed;

    /// <summary>The design with this origin for one input.</summary>
    public static Design With(Design design, string path, Origin origin)
    {
        IEnumerable<InputOrigin> others = design.Origins.Where(entry => entry.Id != path);
        return design with { Origins = Sorted(origin == Origin.Assumed ? others : others.Append(new InputOrigin(path, origin))) };
    }

    /// <summary>
    /// The design after an edit that changed these paths: each that is a fact has this origin, whatever it had before;
    /// entries of inputs that are gone, or are no facts any more, are dropped.
    /// </summary>
    /// <param name="after">The design after the edit.</param>
    /// <param name="changed">Paths whose values changed, in the words of the stored text.</param>
    /// <param name="origin">Where the new values come from: what a client answers during a call is told.</param>
    public static Design AfterEdit(Design after, IEnumerable<string> changed, Origin origin = Origin.Told)
    {
        ImmutableHashSet<string> facts = [.. InputCatalogue.Of(after).Select(fact => fact.Path)];
        ImmutableHashSet<string> edited = [.. changed.Where(facts.Contains)];
        IEnumerable<InputOrigin> kept = after.Origins.Where(entry => facts.Contains(entry.Id) && !edited.Contains(entry.Id));
        return after with { Origins = Sorted(origin == Origin.Assumed ? kept : kept.Concat(edited.Select(path => new InputOrigin(path, origin)))) };
    }

    private static ImmutableArray<InputOrigin> Sorted(IEnumerable<InputOrigin> entries) =>
        [.. entries.OrderBy(entry => entry.Id, StringComparer.Ordinal)];
}
