using System.Collections.Immutable;
using System.Globalization;
using System.IO.Compression;
using System.Numerics;
using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Serialization;
using ConsultDesk.Calculations.Search;

namespace ConsultDesk.Records;

/// <summary>
/// The text form of a <see cref="KeptSearch"/>, <c>{"format":1,...}</c> with designs as <see cref="DesignJson"/> writes them, and the same packed for
/// the store: forty designs of a van are much alike, and shrink to a twentieth.
/// </summary>
public static class KeptSearchJson
{
    /// <summary>Format number written today.</summary>
    public const int CurrentFormat = 1;

    /// <summary>Most bytes of a text (own limit): a front of a thousand designs.</summary>
    public const int LargestBytes = 64 * 1024 * 1024;

    private static readonly JsonSerializerOptions Form = new(JsonSerializerOptions.Strict)
    {
        PropertyNamingPolicy = JsonNamingPolicy.CamelCase,
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
        Converters = { new WellFormedText(), new FiniteNumber(), new JsonStringEnumConverter(JsonNamingPolicy.KebabCaseLower, allowIntegerValues: false) },
    };

    // A number means nothing without the name of its objective, and those may change their order.
    private static readonly ImmutableArray<string> Names = [.. Enum.GetNames<Objective>().Select(JsonNamingPolicy.KebabCaseLower.ConvertName)];

    /// <summary>The text of a kept search.</summary>
    public static byte[] Write(KeptSearch kept)
    {
        ArgumentNullException.ThrowIfNull(kept);
        var result = kept.Result;
        return JsonSerializer.SerializeToUtf8Bytes(
            new KeptText(
                CurrentFormat,
                Names,
                Raw(DesignJson.Write(kept.Asked)),
                kept.Wishes is null ? null : Raw(WishesJson.Write(kept.Wishes)),
                result.End,
                result.Message,
                kept.Failure,
                result.Currency,
                kept.Space is { } space
                    ? new SpaceText(
                        space.Axes, space.Size.Listed.ToString(CultureInfo.InvariantCulture), space.Size.Combined, space.Size.Candidates,
                        [.. space.Removed.Select(removed => new RemovedText(removed.Rule.Key, removed.Choices, removed.Combinations))], space.Notes)
                    : null,
                result.Start is { } start ? Numbers(start) : null,
                [.. result.Front.Select((member, at) => new MemberText(
                    member.Candidate, member.Words, Numbers(member.Numbers), member.Ties, member.Score, member.ChanceOnFront, [.. member.Bands.Select(band => band.Low)],
                    [.. member.Bands.Select(band => band.High)], Raw(DesignJson.Write(kept.Designs[at]))))],
                [.. result.Named.Select(named => new NamedText(named.Member.Candidate, named.Name, named.Sentence, named.HardlyThoughtOf))],
                result.Weights,
                [.. result.Calculated.Select(known => new KnownText(known.Key, Numbers(known.Value)))],
                result.Worlds,
                kept.Years,
                kept.Whole),
            Form);
    }

    /// <summary>Reads a text.</summary>
    /// <exception cref="SearchTextException">Written by a newer release, or damaged.</exception>
    public static KeptSearch Read(byte[] text)
    {
        ArgumentNullException.ThrowIfNull(text);
        try
        {
            using (var document = JsonDocument.Parse(text, new JsonDocumentOptions { AllowDuplicateProperties = false }))
            {
                if (document.RootElement.ValueKind != JsonValueKind.Object || !document.RootElement.TryGetProperty("format", out var number)
                    || number.ValueKind != JsonValueKind.Number || !number.TryGetInt32(out var format) || format < 1)
                {
                    throw new SearchTextException("expected the member 'format', a whole number of 1 or more.");
                }

                if (format > CurrentFormat)
                {
                    throw new SearchTextException(FormattableString.Invariant($"format {format} is newer than format {CurrentFormat}, the newest this release knows."));
                }
            }

            return Kept(JsonSerializer.Deserialize<KeptText>(text, Form) ?? throw new SearchTextException("expected an object."));
        }
        catch (Exception damaged) when (damaged is JsonException or FormatException or ArgumentException or InvalidOperationException or NotSupportedException
            or NullReferenceException or DesignTextException or NewerDesignFormatException or WishesTextException)
        {
            throw new SearchTextException(damaged.Message, damaged);
        }
    }

    /// <summary>The text compressed.</summary>
    public static byte[] Pack(KeptSearch kept)
    {
        using var packed = new MemoryStream();
        using (var brotli = new BrotliStream(packed, CompressionLevel.Fastest, leaveOpen: true))
        {
            brotli.Write(Write(kept));
        }

        return packed.ToArray();
    }

    /// <summary>Reads what was packed.</summary>
    /// <exception cref="SearchTextException">Written by a newer release, or damaged.</exception>
    public static KeptSearch Unpack(byte[] packed)
    {
        ArgumentNullException.ThrowIfNull(packed);
        using var brotli = new BrotliStream(new MemoryStream(packed), CompressionMode.Decompress);
        using var bytes = new MemoryStream();
        var block = new byte[64 * 1024];
        try
        {
            int count;
            while ((count = brotli.Read(block)) > 0)
            {
                bytes.Write(block, 0, count);
                if (bytes.Length > LargestBytes)
                {
                    throw new SearchTextException("it is larger than any search.");
                }
            }
        }
        catch (Exception damaged) when (damaged is InvalidOperationException or InvalidDataException)
        {
            throw new SearchTextException("it is damaged.", damaged);
        }

        return Read(bytes.ToArray());
    }

    private static KeptSearch Kept(KeptText text)
    {
        if (!text.Objectives.SequenceEqual(Names))
        {
            throw new SearchTextException("it compares by other numbers than this release.");
        }

        ImmutableArray<FrontMember> front =
        [
            .. text.Front.Select(member => new FrontMember
            {
                Candidate = member.Candidate,
                Words = member.Words,
                Numbers = new ObjectiveNumbers(member.Numbers),
                Ties = member.Ties,
                Score = member.Score,
                ChanceOnFront = member.ChanceOnFront,
                Bands = member.Lows.Length == member.Highs.Length ? [.. member.Lows.Zip(member.Highs)] : throw new SearchTextException("a band has one end."),
            }),
        ];
        if (front.DistinctBy(member => member.Candidate).Count() != front.Length)
        {
            throw new SearchTextException("a design stands twice.");
        }

        return new KeptSearch
        {
            Asked = DesignJson.Read(text.Asked.GetRawText()),
            Wishes = text.Wishes is { } wishes ? WishesJson.Read(wishes.GetRawText()) : null,
            Result = new SearchResult
            {
                End = text.End,
                Message = text.Message,
                Currency = text.Currency,
                Start = text.Start is { } start ? new ObjectiveNumbers(start) : null,
                Front = front,
                Named = [.. text.Named.Select(named => new NamedDesign(front.Single(member => member.Candidate == named.Candidate), named.Name, named.Sentence, named.HardlyThoughtOf))],
                Weights = text.Weights,
                Calculated = text.Calculated.ToImmutableSortedDictionary(known => known.Candidate, known => new ObjectiveNumbers(known.Numbers)),
                Worlds = text.Worlds,
            },
            Space = text.Space is { } space
                ? new KeptSpace(
                    space.Axes, new SpaceSize(BigInteger.Parse(space.Listed, CultureInfo.InvariantCulture), space.Combined, space.Candidates),
                    [.. space.Removed.Select(removed => new RemovedByRule(SpaceRule.Get(removed.Rule), removed.Choices, removed.Combinations, []))], space.Notes)
                : null,
            Failure = text.Failure,
            Years = text.Years,
            Whole = text.Whole,
            Designs = [.. text.Front.Select(member => DesignJson.Read(member.Design.GetRawText()))],
        };
    }

    private static JsonElement Raw(string json)
    {
        using var document = JsonDocument.Parse(json);
        return document.RootElement.Clone();
    }

    private static ImmutableArray<double> Numbers(ObjectiveNumbers numbers) => [.. numbers.Values];

    private sealed record KeptText(
        int Format,
        ImmutableArray<string> Objectives,
        JsonElement Asked,
        JsonElement? Wishes,
        SearchEnd End,
        string Message,
        string? Failure,
        string Currency,
        SpaceText? Space,
        ImmutableArray<double>? Start,
        ImmutableArray<MemberText> Front,
        ImmutableArray<NamedText> Named,
        ImmutableArray<double> Weights,
        ImmutableArray<KnownText> Calculated,
        int Worlds,
        int Years,
        bool Whole);

    private sealed record SpaceText(int Axes, string Listed, long Combined, int Candidates, ImmutableArray<RemovedText> Removed, ImmutableArray<string> Notes);

    private sealed record RemovedText(string Rule, int Choices, long Combinations);

    private sealed record MemberText(
        int Candidate,
        ImmutableArray<string> Words,
        ImmutableArray<double> Numbers,
        ImmutableArray<int> Ties,
        double Score,
        double? ChanceOnFront,
        ImmutableArray<double> Lows,
        ImmutableArray<double> Highs,
        JsonElement Design);

    private sealed record NamedText(int Candidate, string Name, string Sentence, bool HardlyThoughtOf);

    private sealed record KnownText(int Candidate, ImmutableArray<double> Numbers);
}
