using System.Collections.Immutable;
using System.Globalization;
using System.Numerics;
using ConsultDesk.Calculations.Search;
using ConsultDesk.Reports.Plans;

namespace ConsultDesk.Reports.Tests;

/// <summary>An invented search of the sample's van: twelve designs nothing beats, three of them with names.</summary>
internal static class SampleSearch
{
    public static readonly DateTime FoundAt = new(2026, 11, 24, 21, 14, 0, DateTimeKind.Utc);

    public static ObjectiveNumbers Numbers(double money, double wet, double cold = 40) => new([money, 180 - (money / 20), wet, 0.4, cold, 6, 31, 1.2, money / 300]);

    /// <summary>The front: the dearer the drier.</summary>
    public static readonly ImmutableArray<FrontMember> Front =
    [
        .. Enumerable.Range(0, 12).Select(n => new FrontMember
        {
            Candidate = 100 + n,
            Words = n == 0 ? [] : [.. Enumerable.Range(1, n).Take(4).Select(choice => string.Create(CultureInfo.InvariantCulture, $"Choice {choice} of design {n}"))],
            Numbers = Numbers(n * 250, 600 - (n * 50), 40 + n),
            Ties = [],
            Score = n / 12.0,
        }),
    ];

    public static KeptSearch Kept { get; } = new()
    {
        Asked = SampleDesign.Design,
        Result = new SearchResult
        {
            End = SearchEnd.Finished,
            Message = "48 of 8976 candidates were calculated over the year.",
            Currency = "EUR",
            Start = Front[0].Numbers,
            Front = Front,
            Named = [new(Front[4], "The even-handed one", "Good.", false), new(Front[11], "The dry one", "Dry.", false), new(Front[0], "The thrifty one", "Cheap.", false)],
            Calculated = Front.ToImmutableSortedDictionary(member => member.Candidate, member => member.Numbers),
        },
        Space = new KeptSpace(14, new SpaceSize(BigInteger.Pow(10, 14), 12_288, 8976), [], []),
        Years = 240,
        Designs = [.. Front.Select(_ => SampleDesign.Design)],
    };

    public static SearchedDesigns Searched { get; } = new(Kept, FoundAt, Front[4].Numbers);
}
