namespace ConsultDesk.Records;

/// <summary>A row that belongs to one firm. Queries see it only through a context opened for that firm.</summary>
public abstract class FirmRow
{
    /// <summary>Key, made by the context when the row is added.</summary>
    public Guid Id { get; set; }

    /// <summary>The firm the row belongs to, stamped by the context when the row is added.</summary>
    public Guid FirmId { get; set; }
}

/// <summary>
/// A row that people change. The context gives it a new <see cref="Version"/> on every save, and a save over
/// another version than the one loaded fails. A store-made token is not used: SQLite has none.
/// </summary>
public interface IVersioned
{
    /// <summary>Changes with every save of the row.</summary>
    Guid Version { get; set; }
}
