namespace ConsultDesk.Records;

/// <summary>A stored design text cannot be read. The text is left as it is.</summary>
public class DesignTextException : Exception
{
    /// <summary>Says where in the text reading stopped and what was expected there.</summary>
    /// <param name="path">Place in the text, for example <c>$.design.stop</c>.</param>
    /// <param name="expected">What was expected there, with the member's name.</param>
    /// <param name="inner">The reader's own error, if there was one.</param>
    public DesignTextException(string path, string expected, Exception? inner = null)
        : base($"The stored design cannot be read at {path}: {expected}", inner) => Path = path;

    /// <summary>Place in the text where reading stopped.</summary>
    public string Path { get; }
}

/// <summary>A stored design was written by a newer release. It is refused and left untouched.</summary>
public sealed class NewerDesignFormatException(int format)
    : DesignTextException("$.format", $"format {format} is newer than format {DesignJson.CurrentFormat}, the newest this release knows; update ConsultDesk to open it.")
{
    /// <summary>Format number found in the text.</summary>
    public int Format { get; } = format;
}
