using ConsultDesk.Records;
using ConsultDesk.Web.Consults;

namespace ConsultDesk.Web.Workspace;

/// <summary>The advice a van's client declined, as stored, and its changes from the findings.</summary>
/// <param name="book">Where it is stored.</param>
/// <param name="who">Who is signed in.</param>
/// <param name="vanId">The van.</param>
/// <param name="changed">Called after a change, with what stood against it or null.</param>
public sealed class DeclinedKeeper(DeclinedAdviceBook book, SignedIn who, Guid vanId, Action<string?> changed)
{
    /// <summary>What the findings see; null before the first reading.</summary>
    public DeclinedBoard? Board { get; private set; }

    /// <summary>Reads what is stored.</summary>
    public async Task ReadAsync() => Board = new(await book.Of(who, vanId), DeclineAsync, TakeBackAsync);

    private async Task<IReadOnlyList<FieldError>> DeclineAsync(DeclinedInput input)
    {
        try
        {
            await book.Add(who, vanId, input);
        }
        catch (InvalidInputException refused)
        {
            return refused.Errors;
        }

        await ReadAsync();
        changed(null);
        return [];
    }

    private async Task TakeBackAsync(DeclinedAdvice row)
    {
        string? trouble = null;
        try
        {
            await book.TakeBack(who, row.Id, row.Version);
        }
        catch (Exception told) when (told is RecordChangedException or RecordNotFoundException)
        {
            trouble = "A colleague took this back just now.";
        }

        await ReadAsync();
        changed(trouble);
    }
}
