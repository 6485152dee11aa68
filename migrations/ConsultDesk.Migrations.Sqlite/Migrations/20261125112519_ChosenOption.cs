using System;
using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace ConsultDesk.Migrations.Sqlite.Migrations
{
    /// <inheritdoc />
    public partial class ChosenOption : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.CreateTable(
                name: "ChosenOptions",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "TEXT", nullable: false),
                    VanId = table.Column<Guid>(type: "TEXT", nullable: false),
                    OptionId = table.Column<Guid>(type: "TEXT", nullable: false),
                    DesignText = table.Column<string>(type: "TEXT", nullable: false),
                    DesignFormat = table.Column<int>(type: "INTEGER", nullable: false),
                    ChosenAt = table.Column<DateTime>(type: "TEXT", nullable: false),
                    ChosenBy = table.Column<Guid>(type: "TEXT", nullable: false),
                    FirmId = table.Column<Guid>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_ChosenOptions", x => x.Id);
                    table.ForeignKey(
                        name: "FK_ChosenOptions_Firms_FirmId",
                        column: x => x.FirmId,
                        principalTable: "Firms",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_ChosenOptions_Options_OptionId",
                        column: x => x.OptionId,
                        principalTable: "Options",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_ChosenOptions_Vans_VanId",
                        column: x => x.VanId,
                        principalTable: "Vans",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateIndex(
                name: "IX_ChosenOptions_FirmId",
                table: "ChosenOptions",
                column: "FirmId");

            migrationBuilder.CreateIndex(
                name: "IX_ChosenOptions_OptionId",
                table: "ChosenOptions",
                column: "OptionId");

            migrationBuilder.CreateIndex(
                name: "IX_ChosenOptions_VanId",
                table: "ChosenOptions",
                column: "VanId",
                unique: true);
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropTable(
                name: "ChosenOptions");
        }
    }
}
