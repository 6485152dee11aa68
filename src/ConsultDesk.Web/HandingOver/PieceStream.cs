namespace ConsultDesk.Web.HandingOver;

/// <summary>
/// Takes what the zip writes, which it does in part without waiting, and hands it on piece by piece: a web server's answer may only be
/// written to by those who wait.
/// </summary>
internal sealed class PieceStream(Stream target) : Stream
{
    private readonly MemoryStream _piece = new();

    /// <inheritdoc/>
    public override bool CanRead => false;

    /// <inheritdoc/>
    public override bool CanSeek => false;

    /// <inheritdoc/>
    public override bool CanWrite => true;

    /// <inheritdoc/>
    public override long Length => throw new NotSupportedException();

    /// <inheritdoc/>
    public override long Position
    {
        get => throw new NotSupportedException();
        set => throw new NotSupportedException();
    }

    /// <summary>Hands on what was written since the last time.</summary>
    public async Task HandOnAsync(CancellationToken cancellation)
    {
        _piece.Position = 0;
        await _piece.CopyToAsync(target, cancellation);
        _piece.SetLength(0);
    }

    /// <inheritdoc/>
    public override void Write(byte[] buffer, int offset, int count) => _piece.Write(buffer, offset, count);

    /// <inheritdoc/>
    public override void Write(ReadOnlySpan<byte> buffer) => _piece.Write(buffer);

    /// <summary>Does nothing: <see cref="HandOnAsync"/> hands on.</summary>
    public override void Flush()
    {
    }

    /// <inheritdoc/>
    public override int Read(byte[] buffer, int offset, int count) => throw new NotSupportedException();

    /// <inheritdoc/>
    public override long Seek(long offset, SeekOrigin origin) => throw new NotSupportedException();

    /// <inheritdoc/>
    public override void SetLength(long value) => throw new NotSupportedException();
}
