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
