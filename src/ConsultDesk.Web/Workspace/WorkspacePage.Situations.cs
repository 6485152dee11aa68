using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Records;
using ConsultDesk.Web.Workspace.Situations;

namespace ConsultDesk.Web.Workspace;

// Weather and use the drawing is shown in.
public sealed partial class WorkspacePage
{
    /// <summary>Has the situation that is shown follow the design, its weather that of the last year.</summary>
    private void FollowSituation()
    {
        if (_open is null || _situations is null)
        {
            return;
        }

        var year = _open.Runner.LatestYear;
        _choices = year is null && _open.Runner.Failure is null
            ? []
            : SituationChoice.Of(_open.Editor.Design, [.. (year?.Assessment.Situations ?? []).Select(result => result.Situation)], _own);
        if (_situations.Key is { } key && _choices.FirstOrDefault(choice => choice.Key == key) is { } choice)
        {
            _situations.Take(choice.From);
        }

        _situations.Follow(_open.Editor.Design, _open.Editor.Revision);
    }

    private void ShowSituation(SituationChoice choice)
    {
        // On a small screen the drawing stays in view; beside it the left pane holds weather and use.
        _left = "situation";
        _situations!.Show(choice.Key, choice.From);
    }

    private void ShowNight()
    {
        _left = _left == "situation" ? "inputs" : _left;
        _section = _section == "situation" ? "drawing" : _section;
        _situations!.ShowNight();
    }

    private async Task KeepSituationAsync(Situation situation)
    {
        if (await AskNameAsync("Keep as an own situation", "Everybody of your firm can choose it then.", "Keep", situation.Name) is { } name)
        {
            await WorkAsync(async () =>
            {
                var id = await OwnSituations.Add(Who, SituationChoice.Input(name, situation, _open!.Editor.Design.Household.Sleepers));
                await ReadOwnAsync();
                ShowSituation(_choices.Single(choice => choice.Own?.Id == id));
            });
        }
    }

    private Task RewriteSituationAsync(OwnSituation own) => WorkAsync(async () =>
    {
        await OwnSituations.Change(Who, own.Id, own.Version, SituationChoice.Input(own.Name, _situations!.Asked!, _open!.Editor.Design.Household.Sleepers));
        await ReadOwnAsync();
        ShowSituation(_choices.Single(choice => choice.Own?.Id == own.Id));
    });

    private async Task RenameSituationAsync(OwnSituation own)
    {
        if (await AskNameAsync("Rename the situation", "It is called so for everybody of your firm.", "Rename", own.Name) is { } name)
        {
            await WorkAsync(async () =>
            {
                await OwnSituations.Change(
                    Who, own.Id, own.Version, new(name, own.OutdoorC, own.HumidityPercent, own.WindMPerS, own.Falling, own.SunWPerM2, own.People, own.Activity, own.Hours, own.SnowOnRoof, own.HeaterOff));
                await ReadOwnAsync();
            });
        }
    }

    private Task DeleteSituationAsync(OwnSituation own) => WorkAsync(async () =>
    {
        await OwnSituations.Delete(Who, own.Id, own.Version);
        ShowNight();
        await ReadOwnAsync();
    });

    private async Task ReadOwnAsync()
    {
        _own = await OwnSituations.All(Who);
        FollowSituation();
    }
}
