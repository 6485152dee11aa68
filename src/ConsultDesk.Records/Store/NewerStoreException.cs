namespace ConsultDesk.Records;

/// <summary>The database was brought up to date by a newer release than this one; it is left untouched.</summary>
/// <param name="step">The newest step this release does not know.</param>
public sealed class NewerStoreException(string step)
    : Exception($"They were last used by a newer release of the desk (step {step}, which this release does not know).");
