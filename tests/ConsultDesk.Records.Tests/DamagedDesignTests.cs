using System.Globalization;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Testing;
using CsCheck;
using Xunit;

namespace ConsultDesk.Records.Tests;

/// <summary>
/// Stored texts with characters lost, doubled, swapped or replaced. DAMAGED_DESIGNS in the environment sets how many
/// (20,000 unless set); the seed is fixed.
/// </summary>
public sealed class DamagedDesignTests(ITestOutputHelper output)
{
    private const uint Seed = 20_261_125;

    private static readonly string[] Scraps =
        ["{", "}", "[", "]", ",", ":", "\"", "\\", "null", "true", "-", "1e999", "NaN", "0.1", "-1", "\"kind\":\"solid\",", "\u0000", "\\uD834", "𝄞", " "];

    [Fact]
    public void A_damaged_text_is_read_or_refused_with_its_place_and_nothing_else_happens()
    {
        int count = int.Parse(Environment.GetEnvironmentVariable("DAMAGED_DESIGNS") ?? "20000", CultureInfo.InvariantCulture);
        var random = new PCG(1, Seed);
        int Below(int limit) => (int)random.Next((uint)limit);
        string whole = DesignJson.Write(SampleDesign.Van());
        int read = 0;
        int invalid = 0;
        for (int i = 0; i < count; i++)
        {
            string text = whole;
            for (int wounds = 1 + Below(3); wounds > 0; wounds--)
            {
                int at = Below(text.Length);
                int length = Math.Min(1 + Below(1 << Below(8)), text.Length - at);
                text = Below(4) switch
                {
                    0 => text.Remove(at, length),
                    1 => text.Insert(at, text.Substring(at, length)),
                    2 => text.Insert(at, Scraps[Below(Scraps.Length)]),
                    _ => text.Remove(at, length).Insert(at, Scraps[Below(Scraps.Length)]),
                };
            }

            try
            {
                Design design = DesignJson.Read(text);
                read++;
                // What can be read can be judged, and stored again as it was read.
                invalid += DesignCheck.Errors(design).IsEmpty ? 0 : 1;
                Assert.True(DesignJson.Same(design, DesignJson.Read(DesignJson.Write(design))), text);
            }
            catch (DesignTextException refused)
            {
                Assert.StartsWith("$", refused.Path, StringComparison.Ordinal);
            }
            catch (Exception unexpected) when (unexpected is not Xunit.Sdk.IAssertionException)
            {
                Assert.Fail($"Text {i} threw {unexpected}\n{text}");
            }
        }

        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{count} damaged texts, seed {Seed}: {count - read} refused, {read} read, {invalid} of them with errors named by the check"));
        Assert.InRange(read, 1, count - 1);
    }
}
