using ConsultDesk.Calculations.Comfort;
using ConsultDesk.Calculations.Envelope;
using Xunit;

namespace ConsultDesk.Calculations.Tests.Comfort;

/// <summary>What must hold of the mould model whatever its numbers.</summary>
public sealed class MouldTests
{
    [Fact]
    public void The_step_does_not_change_the_answer()
    {
        foreach (MouldSensitivity material in Enum.GetValues<MouldSensitivity>())
        {
            MouldState hourly = default;
            for (int hour = 0; hour < 24 * 120; hour++)
            {
                hourly = MouldIndex.After(hourly, 18, 95, material, 1, 1);
            }

            Assert.Equal(MouldIndex.After(default, 18, 95, material, 1, 24 * 120).Index, hourly.Index, 8);
        }
    }

    [Fact]
    public void Growth_never_passes_the_largest_and_never_starts_below_freezing_or_in_dry_air()
    {
        Random random = new(20261130);
        for (int round = 0; round < 2000; round++)
        {
            double celsius = (random.NextDouble() * 70) - 20;
            double humidity = 100 * random.NextDouble();
            var material = (MouldSensitivity)random.Next(4);
            MouldState before = new(6 * random.NextDouble(), 100 * random.NextDouble());
            MouldState after = MouldIndex.After(before, celsius, humidity, material, 0.25, 24 * random.NextDouble());
            Assert.InRange(after.Index, 0, 6);
            if (celsius <= 0 || humidity < 80)
            {
                Assert.True(after.Index <= before.Index);
                Assert.True(after.DryHours >= before.DryHours);
            }
            else if (after.Index > before.Index)
            {
                Assert.True(after.Index <= MouldIndex.Largest(celsius, humidity, material) + 1e-9);
            }
        }
    }

    [Fact]
    public void A_material_that_feeds_mould_less_grows_less()
    {
        double[] indices = [.. Enum.GetValues<MouldSensitivity>().Select(material => MouldIndex.After(default, 20, 95, material, 1, 24 * 60).Index)];
        Assert.Equal(indices.OrderDescending(), indices);
    }

    [Fact]
    public void Every_material_has_a_class_with_its_source()
    {
        Assert.All(Materials.All, material => Assert.Contains(MouldClasses.All, row => row.Key == material.Key));
        Assert.All(MouldClasses.All, row => Assert.False(string.IsNullOrWhiteSpace(row.Source)));
        Assert.Throws<ArgumentException>(() => MouldClasses.Of("cheese"));
    }

    [Fact]
    public void Values_out_of_range_are_refused()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => MouldIndex.After(default, 51, 90, MouldSensitivity.Sensitive, 1, 1));
        Assert.Throws<ArgumentOutOfRangeException>(() => MouldIndex.After(default, 20, 100.1, MouldSensitivity.Sensitive, 1, 1));
        Assert.Throws<ArgumentOutOfRangeException>(() => MouldIndex.After(new MouldState(6.1, 0), 20, 90, MouldSensitivity.Sensitive, 1, 1));
        Assert.Throws<ArgumentOutOfRangeException>(() => MouldIndex.After(default, 20, 90, MouldSensitivity.Sensitive, 1.1, 1));
        Assert.Throws<ArgumentOutOfRangeException>(() => MouldIndex.After(default, 20, double.NaN, MouldSensitivity.Sensitive, 1, 1));
        Assert.Throws<ArgumentOutOfRangeException>(() => MouldIndex.CriticalHumidityPercent(-1, MouldSensitivity.Sensitive));
        Assert.Throws<ArgumentOutOfRangeException>(() => MouldIndex.ResponseWeeks(0, 90));
    }
}
