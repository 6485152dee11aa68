using ConsultDesk.Calculations;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Simulation;
using Microsoft.EntityFrameworkCore;

namespace ConsultDesk.Records;

/// <summary>What is entered about an own situation; numbers in the units of <see cref="OwnSituation"/>, within <see cref="SituationLimits"/>.</summary>
public sealed record OwnSituationInput(
    string? Name,
    double OutdoorC,
    double HumidityPercent,
    double WindMPerS,
    Precipitation Falling,
    double SunWPerM2,
    int? People,
    Activity Activity,
    double Hours,
    bool SnowOnRoof,
    bool HeaterOff);

/// <summary>The firm's own situations: weather and use it judges designs by, beside those taken from an itinerary.</summary>
public sealed class OwnSituations(FirmContexts contexts, TimeProvider time)
{
    /// <summary>The most situations a firm keeps (own limit).</summary>
    public const int Most = 30;

    /// <summary>The firm's situations, by name.</summary>
    public async Task<IReadOnlyList<OwnSituation>> All(SignedIn who, CancellationToken cancellation = default)
    {
        await using var db = contexts.OpenFor(who.FirmId);
        return await db.OwnSituations.AsNoTracking().OrderBy(s => s.Name).ThenBy(s => s.Id).ToListAsync(cancellation);
    }

    /// <summary>Adds a situation.</summary>
    /// <returns>Its id.</returns>
    /// <exception cref="InvalidInputException">A field is wrong, or the firm has one of that name, or too many.</exception>
    public async Task<Guid> Add(SignedIn who, OwnSituationInput input, CancellationToken cancellation = default)
    {
        var situation = new OwnSituation { Name = "" };
        await using var db = contexts.OpenFor(who.FirmId);
        await Take(db, situation, input, cancellation);
        if (await db.OwnSituations.CountAsync(cancellation) >= Most)
        {
            throw new InvalidInputException([new(nameof(input.Name), FormattableString.Invariant($"Expected at most {Most} situations; delete one first."))]);
        }

        db.OwnSituations.Add(situation);
        db.Note(who, "own-situation.added", "own-situation", situation.Id, time.UtcNow());
        await Saving.RefusedAs(Taken, () => db.SaveChangesAsync(cancellation));
        return situation.Id;
    }

    /// <summary>Renames a situation or gives it other weather and use.</summary>
    /// <returns>The new version.</returns>
    /// <exception cref="InvalidInputException">A field is wrong, or the firm has another of that name.</exception>
    /// <exception cref="RecordNotFoundException">The firm has no such situation.</exception>
    /// <exception cref="RecordChangedException">Changed since <paramref name="loadedVersion"/>.</exception>
    public async Task<Guid> Change(SignedIn who, Guid id, Guid loadedVersion, OwnSituationInput input, CancellationToken cancellation = default)
    {
        await using var db = contexts.OpenFor(who.FirmId);
        var situation = await Existing(db, id, cancellation);
        await Take(db, situation, input, cancellation);
        db.Note(who, "own-situation.changed", "own-situation", id, time.UtcNow());
        await Saving.RefusedAs(Taken, () => db.SaveOver(situation, loadedVersion, "own situation", id, cancellation));
        return situation.Version;
    }

    /// <summary>Deletes a situation.</summary>
    /// <exception cref="RecordNotFoundException">The firm has no such situation.</exception>
    /// <exception cref="RecordChangedException">Changed since <paramref name="loadedVersion"/>.</exception>
    public async Task Delete(SignedIn who, Guid id, Guid loadedVersion, CancellationToken cancellation = default)
    {
        await using var db = contexts.OpenFor(who.FirmId);
        var situation = await Existing(db, id, cancellation);
        db.Remove(situation);
        db.Note(who, "own-situation.deleted", "own-situation", id, time.UtcNow());
        await db.SaveOver(situation, loadedVersion, "own situation", id, cancellation);
    }

    private static async Task<OwnSituation> Existing(DeskContext db, Guid id, CancellationToken cancellation) =>
        await db.OwnSituations.SingleOrDefaultAsync(s => s.Id == id, cancellation) ?? throw new RecordNotFoundException("own situation", id);

    private static async Task Take(DeskContext db, OwnSituation situation, OwnSituationInput input, CancellationToken cancellation)
    {
        ArgumentNullException.ThrowIfNull(input);
        var check = new FieldChecks();
        situation.Name = check.Text(nameof(input.Name), input.Name, TextLimits.Name);
        situation.OutdoorC = Number(check, nameof(input.OutdoorC), input.OutdoorC, SituationLimits.Outdoor);
        situation.HumidityPercent = Number(check, nameof(input.HumidityPercent), input.HumidityPercent, SituationLimits.Humidity);
        situation.WindMPerS = Number(check, nameof(input.WindMPerS), input.WindMPerS, SituationLimits.Wind);
        situation.SunWPerM2 = Number(check, nameof(input.SunWPerM2), input.SunWPerM2, SituationLimits.Sun);
        situation.Hours = Number(check, nameof(input.Hours), input.Hours, SituationLimits.Lasts);
        situation.People = input.People is { } people ? (int)Number(check, nameof(input.People), people, SituationLimits.People) : null;
        check.That(Enum.IsDefined(input.Falling), nameof(input.Falling), "Expected nothing, rain, driving rain or snow.");
        check.That(Enum.IsDefined(input.Activity), nameof(input.Activity), "Expected what the people do.");
        (situation.Falling, situation.Activity, situation.SnowOnRoof, situation.HeaterOff) = (input.Falling, input.Activity, input.SnowOnRoof, input.HeaterOff);
        check.ThrowIfAny();
        if (await db.OwnSituations.AnyAsync(s => s.Name == situation.Name && s.Id != situation.Id, cancellation))
        {
            throw Taken(null);
        }
    }

    private static double Number(FieldChecks check, string field, double value, ValidRange accepted)
    {
        check.That(accepted.Contains(value), field, accepted.Message(value));
        return value;
    }

    private static InvalidInputException Taken(Exception? inner) =>
        new([new(nameof(OwnSituationInput.Name), inner is null ? "Expected a name no other situation has." : "Expected a name no other situation has: a colleague just took this one.")]);
}
