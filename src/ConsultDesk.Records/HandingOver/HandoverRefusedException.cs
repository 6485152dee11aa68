namespace ConsultDesk.Records;

/// <summary>A file of a client was not taken; nothing of it was stored. The message says what was found and what was expected.</summary>
public sealed class HandoverRefusedException(string message, Exception? inner = null) : Exception(message, inner);
