using ConsultDesk.Calculations.Air;
using CsCheck;
using Xunit;

namespace ConsultDesk.Calculations.Tests.Air;

/// <summary>The table of saturation pressures against the equations it is drawn through, which the psychrometric checks hold against outside values.</summary>
public sealed class SaturationTableTests
{
    [Fact]
    public void The_table_follows_the_equations_as_closely_as_it_says() =>
        Gen.Double[-60, 90].Sample(celsius =>
        {
            double pa = SaturationTable.Pa(celsius, out double slope);

            Assert.Equal(1, pa / MoistAir.SaturationPressurePa(celsius), 5e-8);
            Assert.Equal(1, slope / MoistAir.SaturationPressureSlopePaPerK(celsius), 3e-6);
        });

    // Boiling point at sea level, and ice vapour pressures of the Goff-Gratch tables (recalled): 100 °C 101325 Pa, -70 °C 0.2615 Pa.
    [Theory]
    [InlineData(100, 101_325, 0.003)]
    [InlineData(-70, 0.2615, 0.01)]
    [InlineData(-60.4, 1.022, 0.01)]
    public void Outside_the_table_the_equations_are_asked(double celsius, double expectedPa, double share)
    {
        double pa = SaturationTable.Pa(celsius, out double slope);

        Assert.Equal(1, pa / expectedPa, share);
        Assert.Equal(MoistAir.SaturationPressurePa(celsius), pa);
        Assert.Equal(MoistAir.SaturationPressureSlopePaPerK(celsius), slope);
    }

    [Fact]
    public void What_is_no_number_stays_none() => Assert.True(double.IsNaN(SaturationTable.Pa(double.NaN, out _)));

    [Theory]
    [InlineData(-60)]
    [InlineData(-59.99)]
    [InlineData(0.01)]
    [InlineData(0.0099999)]
    [InlineData(0.51)]
    [InlineData(89.99)]
    [InlineData(90)]
    public void The_ends_of_pieces_lie_on_the_equations(double celsius)
    {
        double pa = SaturationTable.Pa(celsius, out double slope);

        Assert.Equal(1, pa / MoistAir.SaturationPressurePa(celsius), 5e-8);
        Assert.Equal(1, slope / MoistAir.SaturationPressureSlopePaPerK(celsius), 3e-6);
    }

    [Fact]
    public void Ice_and_water_keep_their_kink_at_the_triple_point()
    {
        _ = SaturationTable.Pa(MoistAir.TriplePointC - 1e-9, out double ice);
        _ = SaturationTable.Pa(MoistAir.TriplePointC + 1e-9, out double water);

        // Latent heats of sublimation and evaporation over the gas constant: 2834 and 2501 kJ/kg (Clausius and Clapeyron).
        Assert.Equal(2834.0 / 2501, ice / water, 0.003);
    }

    // Built anew here, because what is built once when the program starts is out of reach of a test that changes a line of it.
    [Fact]
    public void Every_piece_follows_the_equations_at_its_ends_and_between()
    {
        double[] pieces = SaturationTable.Build();

        Assert.Equal(4 * 300, pieces.Length);
        for (int piece = 0; piece < pieces.Length / 4; piece++)
        {
            double startC = SaturationTable.OriginC + (piece / SaturationTable.PiecesPerK);
            foreach (double x in (double[])[0, 0.125, 0.25, 0.4999])
            {
                double pa = pieces[4 * piece] + (x * (pieces[(4 * piece) + 1] + (x * (pieces[(4 * piece) + 2] + (x * pieces[(4 * piece) + 3])))));
                Assert.Equal(1, pa / MoistAir.SaturationPressurePa(startC + x), 5e-8);
            }
        }
    }
}
