namespace ConsultDesk.Web.Shell;

/// <summary>The settings do not allow a start. The message is for the person at the console: what was found, what to do.</summary>
internal sealed class StartRefusedException(string message, Exception? inner = null) : Exception(message, inner);
