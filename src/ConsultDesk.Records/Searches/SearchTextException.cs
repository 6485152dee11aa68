namespace ConsultDesk.Records;

/// <summary>What is stored of a search cannot be read. It is left as it is until the next search of the option takes its place.</summary>
public sealed class SearchTextException(string expected, Exception? inner = null)
    : Exception($"The stored search cannot be read: {expected}", inner);
