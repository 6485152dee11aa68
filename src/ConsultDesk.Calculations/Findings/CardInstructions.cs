using System.Collections.Immutable;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Calculations.Findings;

/// <summary>
/// Puts a setting of all openings into the fewest instructions. Four ways: what differs from the design; what stands open
/// and everything else shut; what does not stand full and everything else that may stay open full; and that with the
/// rest shut. Fixed openings are never part of "everything else".
/// </summary>
internal sealed class CardInstructions
{
    /// <summary>Instructions a cell may have.</summary>
    public const int Most = 3;

    /// <summary>What stands for all openings that no other instruction names.</summary>
    public const string EverythingElse = "";

    private readonly Design _design;
    private readonly OpeningSetting[] _standing;
    private readonly OpeningSetting[] _fullest;
    private readonly bool[] _mayOpen;

    /// <param name="design">The design.</param>
    /// <param name="standing">Every opening as the design has it.</param>
    /// <param name="fullest">Every opening as far open as it may be, its fan as fast as it may run; shut where it may not open.</param>
    public CardInstructions(Design design, OpeningSetting[] standing, OpeningSetting[] fullest)
    {
        _design = design;
        _standing = standing;
        _fullest = fullest;
        _mayOpen = [.. fullest.Select(setting => setting.Position != Position.Shut)];
    }

    private enum Way
    {
        Differing,
        ElseShut,
        ElseFull,
        ElseFullRestShut,
    }

    /// <summary>Instructions the setting takes in the shortest way.</summary>
    public int Count(ReadOnlySpan<OpeningSetting> setting)
    {
        int fewest = int.MaxValue;
        foreach (Way way in (ReadOnlySpan<Way>)[Way.Differing, Way.ElseShut, Way.ElseFull, Way.ElseFullRestShut])
        {
            fewest = Math.Min(fewest, Count(setting, way));
        }

        return fewest;
    }

    /// <summary>The setting in words, in the shortest way.</summary>
    public ImmutableArray<CardInstruction> Of(OpeningSetting[] setting)
    {
        Way way = Enum.GetValues<Way>().MinBy(way => Count(setting, way));
        ImmutableArray<CardInstruction>.Builder list = ImmutableArray.CreateBuilder<CardInstruction>();
        for (int index = 0; index < setting.Length; index++)
        {
            if (IsNamed(setting, index, way))
            {
                Opening opening = _design.Openings[index];
                list.Add(new CardInstruction(
                    opening.Id, opening.Name, setting[index].Position, setting[index].FanSpeed > 0 ? setting[index].FanSpeed : null));
            }
        }

        if (way is Way.ElseFull or Way.ElseFullRestShut)
        {
            double speed = Enumerable.Range(0, setting.Length).Where(index => _mayOpen[index]).Select(index => _fullest[index].FanSpeed).DefaultIfEmpty(0).Max();
            bool fans = Enumerable.Range(0, setting.Length).Any(index => _mayOpen[index] && !IsNamed(setting, index, way) && _fullest[index].FanSpeed > 0);
            list.Add(new CardInstruction(
                EverythingElse, list.Count == 0 ? "Everything that may stay open" : "Everything else that may stay open", Position.Full, fans ? speed : null));
        }

        if (way is Way.ElseShut or Way.ElseFullRestShut)
        {
            list.Add(new CardInstruction(EverythingElse, way == Way.ElseFullRestShut ? "What may not stay open" : list.Count == 0 ? "Everything" : "Everything else", Position.Shut, null));
        }

        return list.ToImmutable();
    }

    private int Count(ReadOnlySpan<OpeningSetting> setting, Way way)
    {
        int count = way switch
        {
            Way.Differing => 0,
            Way.ElseShut or Way.ElseFull => 1,
            _ => 2,
        };
        for (int index = 0; index < setting.Length; index++)
        {
            count += IsNamed(setting, index, way) ? 1 : 0;
        }

        return count;
    }

    private bool IsNamed(ReadOnlySpan<OpeningSetting> setting, int index, Way way)
    {
        OpeningSetting now = setting[index];
        if (way == Way.Differing || _design.Openings[index].Facts.Fixed)
        {
            return now != _standing[index];
        }

        return way switch
        {
            Way.ElseShut => now.Position != Position.Shut,
            Way.ElseFull => _mayOpen[index] ? now != _fullest[index] : _standing[index].Position != Position.Shut,
            _ => _mayOpen[index] && now != _fullest[index],
        };
    }
}
